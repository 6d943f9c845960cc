//! The fenced blocks of a Markdown text.

/// A fenced block.
#[derive(Debug)]
pub(crate) struct Fence {
    /// The word after the opening fence.
    pub(crate) language: String,
    /// The lines between the fences.
    pub(crate) body: String,
    /// The name of a CSV or TOML file that was mentioned last before it, in backticks.
    pub(crate) file: Option<String>,
}

/// Every fenced block of `text`, in order.
pub(crate) fn fences(text: &str) -> Vec<Fence> {
    let mut found = Vec::new();
    let mut before = String::new();
    let mut open: Option<Fence> = None;
    for line in text.lines() {
        match (line.strip_prefix("```"), open.take()) {
            (Some(language), None) => {
                let file = file_named(&before);
                before.clear();
                open = Some(Fence { language: language.trim().to_owned(), body: String::new(), file });
            }
            (Some(_), Some(fence)) => found.push(fence),
            (None, Some(mut fence)) => {
                fence.body += line;
                fence.body.push('\n');
                open = Some(fence);
            }
            (None, None) => {
                before += line;
                before.push('\n');
            }
        }
    }
    assert!(open.is_none(), "every fence is closed");
    found
}

fn file_named(text: &str) -> Option<String> {
    let is_file = |word: &&str| word.ends_with(".csv") || word.ends_with(".toml");
    // Every second part is what stands between backticks.
    text.split('`').skip(1).step_by(2).filter(is_file).last().map(str::to_owned)
}

/// The rows of every Markdown table of `text` whose first heading is `heading`, cells without backticks.
pub(crate) fn table(text: &str, heading: &str) -> Vec<Vec<String>> {
    let cells = |line: &str| -> Vec<String> {
        let inner = line.trim().trim_start_matches('|').trim_end_matches('|');
        inner.split('|').map(|cell| cell.trim().replace('`', "")).collect()
    };
    let mut rows = Vec::new();
    let mut inside = false;
    for line in text.lines() {
        if !line.starts_with('|') {
            inside = false;
        } else if inside {
            rows.push(cells(line));
        } else if cells(line)[0] == heading {
            inside = true;
        }
    }
    rows.retain(|row| !row.iter().all(|cell| cell.chars().all(|sign| sign == '-')));
    rows
}
