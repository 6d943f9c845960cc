//! The instance files: one JSON object a line, lengths whole numbers, here taken as ticks.

use std::path::Path;

use serde::Deserialize;
use serde_json::Value;

/// Which way is better.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Deserialize)]
pub(crate) enum Objective {
    /// The greatest profit from the sheets given.
    #[serde(rename = "knapsack")]
    Most,
    /// The cheapest sheets for every item.
    #[serde(rename = "binpack", alias = "cutting-stock")]
    Least,
}

/// One instance.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Instance {
    pub(crate) id: String,
    pub(crate) objective: Objective,
    pub(crate) stages: u32,
    pub(crate) sheets: Vec<Stock>,
    pub(crate) items: Vec<Item>,
    pub(crate) best_known: Option<i64>,
    pub(crate) proven: bool,
}

/// A kind of sheet; no number of copies means any number.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Stock {
    pub(crate) w: i64,
    pub(crate) h: i64,
    pub(crate) copies: Option<u32>,
    pub(crate) cost: i64,
}

/// A kind of piece; no demand means any number.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Item {
    pub(crate) w: i64,
    pub(crate) h: i64,
    pub(crate) demand: Option<u32>,
    pub(crate) profit: i64,
    pub(crate) rotatable: bool,
    /// What must come from one print; only instances made for quilts have it.
    #[serde(default)]
    pub(crate) group: Option<Value>,
}

/// The instances of a file.
pub(crate) fn read(file: &Path) -> Vec<Instance> {
    let text = std::fs::read_to_string(file).unwrap_or_else(|e| panic!("{}: {e}", file.display()));
    let lines = text.lines().enumerate().filter(|(_, line)| !line.trim().is_empty());
    lines
        .map(|(number, line)| {
            serde_json::from_str(line)
                .unwrap_or_else(|e| panic!("{}, line {}: {e}", file.display(), number + 1))
        })
        .collect()
}
