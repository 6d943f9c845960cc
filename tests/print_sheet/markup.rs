//! A small check that a file is well formed: every element that is opened is closed, in order.

/// Elements of HTML that are never closed.
const VOID: &[&str] = &["meta", "br"];

/// The first thing wrong with the tags of `text`, if anything.
pub(crate) fn fault(text: &str) -> Option<String> {
    let mut open: Vec<String> = Vec::new();
    let mut rest = text;
    while let Some(start) = rest.find('<') {
        rest = &rest[start + 1..];
        if rest.starts_with('!') {
            rest = &rest[rest.find('>')? + 1..];
            continue;
        }
        let Some(end) = tag_end(rest) else { return Some("a tag without an end".to_owned()) };
        let tag = &rest[..end];
        rest = &rest[end + 1..];
        if let Some(name) = tag.strip_prefix('/') {
            match open.pop() {
                Some(expected) if expected == name => {}
                other => return Some(format!("</{name}> closes {other:?}")),
            }
            continue;
        }
        let name: String = tag.chars().take_while(|c| c.is_ascii_alphanumeric()).collect();
        if name.is_empty() {
            return Some(format!("a bare < before {:?}", tag.chars().take(20).collect::<String>()));
        }
        if !tag.ends_with('/') && !VOID.contains(&name.as_str()) {
            open.push(name.clone());
        }
        if name == "style" {
            rest = &rest[rest.find("</style>")?..];
        }
    }
    open.pop().map(|name| format!("<{name}> is never closed"))
}

/// Where a tag ends: the first `>` outside quotes.
fn tag_end(tag: &str) -> Option<usize> {
    let mut quoted = false;
    tag.char_indices().find_map(|(at, letter)| {
        quoted ^= letter == '"';
        (letter == '>' && !quoted).then_some(at)
    })
}

/// The text of a file without its tags and style.
pub(crate) fn words(text: &str) -> String {
    let body = text.split("</style>").last().unwrap_or(text);
    let mut words = String::new();
    let mut rest = body;
    while let Some(start) = rest.find('<') {
        words.push_str(&rest[..start]);
        words.push(' ');
        rest = &rest[start + 1..];
        rest = tag_end(rest).map_or("", |end| &rest[end + 1..]);
    }
    words + rest
}
