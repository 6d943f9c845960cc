//! The paths that source names: in `use` lines, groups and all, and in the code below them.

/// A path as it is written, and the name it goes by where it stands.
pub(crate) struct Named {
    pub(crate) path: Vec<String>,
    pub(crate) name: String,
    /// True in a `use` line, which gives the name to the whole file.
    pub(crate) used: bool,
}

/// Every path of two names or more in `code`, up to the tests that stand under it. Comments are left out: documentation may
/// link down.
pub(crate) fn named(code: &str) -> Vec<Named> {
    let code = code.split("#[cfg(test)]\nmod ").next().unwrap_or_default();
    let lines = code.lines().map(|line| line.split_once("//").map_or(line, |(before, _)| before));
    let code = lines.collect::<Vec<_>>().join("\n");
    let mut all = Vec::new();
    let (mut rest, mut before) = (code.as_str(), ' ');
    while let Some(sign) = rest.chars().next() {
        let length = name_length(rest);
        let goes_on = matches!(before, '$' | ':');
        if length > 0 && !goes_on && rest[length..].starts_with("::") {
            let used = code[..code.len() - rest.len()].trim_end().ends_with("use");
            let mut found = Vec::new();
            let after = read(rest, &[], &mut found);
            all.extend(found.into_iter().map(|(path, name)| Named { path, name, used }));
            (before, rest) = (' ', after);
            continue;
        }
        let step = length.max(sign.len_utf8());
        before = rest[..step].chars().next_back().unwrap_or(' ');
        rest = &rest[step..];
    }
    all
}

/// Reads the paths that `text` begins with, each after `before`; what follows them is given back.
fn read<'t>(text: &'t str, before: &[String], found: &mut Vec<(Vec<String>, String)>) -> &'t str {
    let mut path = before.to_vec();
    let mut rest = text.trim_start();
    loop {
        if let Some(group) = rest.strip_prefix('{') {
            rest = group.trim_start();
            while !rest.is_empty() && !rest.starts_with('}') {
                let after = read(rest, &path, found).trim_start();
                let after = after.strip_prefix(',').unwrap_or(after).trim_start();
                assert!(after.len() < rest.len(), "a group holds names: {}", rest.lines().next().unwrap());
                rest = after;
            }
            return rest.strip_prefix('}').unwrap_or(rest);
        }
        let (name, after) = rest.split_at(name_length(rest));
        if name.is_empty() {
            // All names of a file, or generic arguments.
            found.push((path, "*".to_owned()));
            return rest.strip_prefix('*').unwrap_or(rest);
        }
        // A file named in a group beside some of what it holds.
        if name != "self" || path.is_empty() {
            path.push(name.to_owned());
        }
        if let Some(more) = after.strip_prefix("::") {
            rest = more;
            continue;
        }
        let alias = after.trim_start().strip_prefix("as ").map(str::trim_start);
        let alias = alias.map(|text| text.split_at(name_length(text)));
        let (name, after) = alias.unwrap_or((path.last().map_or("", String::as_str), after));
        let name = name.to_owned();
        found.push((path, name));
        return after;
    }
}

/// How much of the beginning of `text` is a name.
fn name_length(text: &str) -> usize {
    text.find(|sign: char| !sign.is_alphanumeric() && sign != '_').unwrap_or(text.len())
}
