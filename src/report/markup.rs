//! Writes HTML and SVG so that every element that is opened is closed and every text is escaped.

use crate::report::escape;

/// A growing piece of HTML or SVG.
#[derive(Debug, Default)]
pub(crate) struct Markup {
    text: String,
}

/// The attributes of an element: name and value; the value is escaped when written.
pub(crate) type Attributes<'a> = &'a [(&'a str, &'a str)];

impl Markup {
    /// Nothing yet.
    pub(crate) fn new() -> Markup {
        Markup::default()
    }

    /// An element with whatever `inside` writes.
    pub(crate) fn element(
        &mut self,
        name: &str,
        attributes: Attributes<'_>,
        inside: impl FnOnce(&mut Markup),
    ) {
        self.start(name, attributes);
        self.text.push('>');
        inside(self);
        self.text.push_str("</");
        self.text.push_str(name);
        self.text.push('>');
        if is_block(name) {
            self.text.push('\n');
        }
    }

    /// An element that holds only text.
    pub(crate) fn leaf(&mut self, name: &str, attributes: Attributes<'_>, text: &str) {
        self.element(name, attributes, |inner| inner.text(text));
    }

    /// An element without content, closed at once: for SVG shapes and void HTML elements.
    pub(crate) fn empty(&mut self, name: &str, attributes: Attributes<'_>) {
        self.start(name, attributes);
        self.text.push_str("/>");
    }

    /// Text, escaped.
    pub(crate) fn text(&mut self, text: &str) {
        self.text.push_str(&escape::markup(text));
    }

    /// Markup made elsewhere by a [`Markup`], or a constant of this program; never text from a file.
    pub(crate) fn trusted(&mut self, markup: &str) {
        self.text.push_str(markup);
    }

    /// What was written.
    pub(crate) fn finish(self) -> String {
        self.text
    }

    fn start(&mut self, name: &str, attributes: Attributes<'_>) {
        self.text.push('<');
        self.text.push_str(name);
        for (key, value) in attributes {
            self.text.push(' ');
            self.text.push_str(key);
            self.text.push_str("=\"");
            self.text.push_str(&escape::markup(value));
            self.text.push('"');
        }
    }
}

/// Elements after which a line break does no harm, so that the file can be read and compared line by line.
fn is_block(name: &str) -> bool {
    matches!(
        name,
        "p" | "h1"
            | "h2"
            | "h3"
            | "h4"
            | "li"
            | "ul"
            | "ol"
            | "tr"
            | "table"
            | "thead"
            | "tbody"
            | "div"
            | "section"
            | "svg"
            | "g"
            | "details"
            | "summary"
            | "header"
            | "title"
            | "style"
            | "caption"
            | "body"
            | "head"
            | "html"
    )
}
