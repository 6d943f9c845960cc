//! The sizes a pattern comes in: one design, made smaller or larger with more or fewer blocks.

use crate::pattern::{Block, Layout, Pattern, Size};
use crate::spreadsheet::same_name;

/// One size of the quilt, counted out: what differs from one size to the next.
#[derive(Clone, Debug)]
pub struct QuiltSize {
    /// What the designer calls it, such as `baby`.
    pub name: String,
    /// Finished size of the quilt top; `None` when the pattern does not say how the blocks are set.
    pub finished: Option<Size>,
    /// The blocks with the numbers made, their pieces counted anew: a block that this size has none of is left out.
    pub blocks: Vec<Block>,
    /// How the blocks are set in this size.
    pub layout: Option<Layout>,
}

impl Pattern {
    /// The whole pattern in the size with this index in [`Pattern::sizes`]: its blocks, batches, setting and
    /// pieces, as if the file described that size alone. Block indices are those of the new pattern.
    ///
    /// `None` when there is no such size.
    ///
    /// ```
    /// let text = br#"
    /// [role]
    /// A = "urchin print"
    /// [[block]]
    /// name = "Patch"
    /// make = 12
    /// finished = "6 in"
    /// rows = ["A"]
    /// [[size]]
    /// name = "doll"
    /// make = { Patch = 4 }
    /// "#;
    /// let (pattern, _) = cutcloth::pattern::read_toml("patch.toml", text);
    /// let doll = pattern.at_size(1).expect("two sizes, the main one first");
    /// assert_eq!((pattern.blocks[0].make, doll.blocks[0].make), (12, 4));
    /// assert_eq!((pattern.size_name(), doll.size_name()), (Some("main"), Some("doll")));
    /// ```
    pub fn at_size(&self, index: usize) -> Option<Pattern> {
        let size = self.sizes.get(index)?;
        Some(Pattern {
            name: self.name.clone(),
            roles: self.roles.clone(),
            blocks: size.blocks.clone(),
            sewing: self.sewing,
            layout: size.layout.clone(),
            sizes: self.sizes.clone(),
            size: index,
            blends: self.blends,
        })
    }

    /// Index of the size with this name, written large or small.
    pub fn find_size(&self, name: &str) -> Option<usize> {
        self.sizes.iter().position(|size| same_name(&size.name, name))
    }

    /// Name of the size this pattern is counted for; `None` when it comes in one size without a name.
    pub fn size_name(&self) -> Option<&str> {
        self.sizes.get(self.size).map(|size| size.name.as_str())
    }

    /// Name of the quilt, with its size where it comes in several.
    pub fn title(&self) -> String {
        match self.size_name() {
            Some(size) if self.sizes.len() > 1 => format!("{}, size {size}", self.name),
            _ => self.name.clone(),
        }
    }
}
