//! What a cutting chart may hold.

use crate::diagnostic::Gathered;
use crate::spreadsheet::{Column, Sheet};

/// Columns and their other headings, compared in lower case without signs.
pub(super) const COLUMNS: &[Column] = &[
    Column {
        name: "quilt",
        spellings: &["pattern", "quilt name", "pattern name", "name of quilt", "name of pattern"],
    },
    Column { name: "block", spellings: &["block name", "blocks", "section", "part", "part of quilt"] },
    Column {
        name: "make",
        spellings: &["copies", "make of block", "number of blocks", "how many blocks", "blocks to make"],
    },
    Column {
        name: "label",
        spellings: &["piece", "letter", "id", "piece label", "patch", "piece letter", "piece id"],
    },
    Column { name: "role", spellings: &["fabric", "fabric role", "cut from", "fabric letter"] },
    Column { name: "width", spellings: &["w", "wide", "across", "cut width", "width cut"] },
    Column {
        name: "height",
        spellings: &["h", "length", "long", "l", "along", "cut height", "cut length", "height cut"],
    },
    Column {
        name: "size",
        spellings: &["cut size", "sizes", "dimensions", "cut at", "w x h", "size to cut"],
    },
    Column {
        name: "count",
        spellings: &[
            "qty",
            "quantity",
            "number",
            "how many",
            "per block",
            "count per block",
            "cut",
            "pcs",
            "each",
            "pieces",
        ],
    },
    Column {
        name: "total",
        spellings: &["total count", "in all", "total pieces", "total number", "total qty", "altogether"],
    },
    Column { name: "shape", spellings: &["becomes", "then", "cut into", "sub cut", "subcut"] },
    Column { name: "matching", spellings: &["match", "same print", "matching rule", "from one print"] },
    Column {
        name: "from",
        spellings: &["source", "cut of fabric", "cuts of fabric", "may come from", "taken from", "precut"],
    },
    Column { name: "different", spellings: &["different from", "not the same as", "never the print of"] },
    Column { name: "at most", spellings: &["at-most", "most alike", "no more than"] },
    Column { name: "only", spellings: &["only from prints", "only prints"] },
    Column { name: "never", spellings: &["never prints", "not from", "not these prints"] },
    Column { name: "contrast", spellings: &["contrast with", "stands out from", "must stand out"] },
    Column { name: "meets", spellings: &["meets only", "sewn to", "lies beside"] },
    Column { name: "blends", spellings: &["may blend", "meant to blend", "tone on tone"] },
];

/// True when every compulsory column is there; reports those that are not.
pub(super) fn has_all(sheet: &Sheet, diagnostics: &mut Gathered) -> bool {
    let before = diagnostics.errors();
    sheet.require("block", diagnostics);
    sheet.require("role", diagnostics);
    if !sheet.has("size") {
        sheet.require("width", diagnostics);
        sheet.require("height", diagnostics);
    }
    if !sheet.has("total") {
        sheet.require("count", diagnostics);
    }
    diagnostics.errors() == before
}
