//! What the page for a pattern's cover says beside its cards: texts and tables of them.

/// What the page says before its cutting, already in words.
#[derive(Clone, Debug, Default)]
pub struct Cover {
    /// Name of the quilt.
    pub title: String,
    /// Mark of the inputs, and a date when there is one.
    pub revision: String,
    /// Finished size, and other facts of the quilt, in one line; may be empty.
    pub about: String,
    /// What to buy.
    pub buy: Table,
    /// Every step from what is cut to what is bought.
    pub steps: Table,
    /// Amounts in every size; without rows when there is one.
    pub sizes: Table,
    /// What is taken for granted.
    pub assumptions: Vec<String>,
    /// How the cutting below was chosen.
    pub cutting: String,
}

/// A table of texts.
#[derive(Clone, Debug, Default)]
pub struct Table {
    /// Its headings.
    pub headings: Vec<String>,
    /// Its rows, one cell a heading.
    pub rows: Vec<Vec<String>>,
}
