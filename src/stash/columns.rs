//! What a stash file may hold, in the headings and words people use.

use crate::fabric::Value;
use crate::spreadsheet::Column;

/// What a stash file may hold. Headings are compared in lower case without signs.
pub(super) const COLUMNS: &[Column] = &[
    Column {
        name: "print",
        spellings: &[
            "prints",
            "fabric",
            "fabric name",
            "print name",
            "name",
            "fabric print",
            "design",
            "my name for it",
        ],
    },
    Column {
        name: "cut",
        spellings: &[
            "cut of fabric",
            "cut type",
            "type",
            "kind",
            "form",
            "comes as",
            "precut",
            "shape",
            "type of cut",
        ],
    },
    Column {
        name: "count",
        spellings: &[
            "qty",
            "quantity",
            "number",
            "how many",
            "no",
            "nr",
            "pieces",
            "pcs",
            "sheets",
            "amount",
            "#",
            "number of pieces",
        ],
    },
    Column {
        name: "width",
        spellings: &["w", "wide", "across", "width across", "across grain", "usable width", "wof"],
    },
    Column {
        name: "length",
        spellings: &["l", "long", "along", "height", "h", "length along", "along grain"],
    },
    Column {
        name: "size",
        spellings: &["sizes", "measures", "measured", "dimensions", "measured size", "w x l"],
    },
    Column {
        name: "allowance",
        spellings: &["squaring up", "squaring up allowance", "truing up", "trim", "trim allowance"],
    },
    Column {
        name: "color",
        spellings: &["colour", "hex", "color code", "colour code", "main color", "main colour"],
    },
    Column { name: "value", spellings: &["light dark", "tone", "light medium dark", "lmd", "depth"] },
    Column {
        name: "directional",
        spellings: &["direction", "one way", "has an up", "up", "directional print", "one way print"],
    },
    Column {
        name: "keep",
        spellings: &["keep back", "kept back", "reserved", "hold back", "do not use", "saved"],
    },
    Column {
        name: "where",
        spellings: &[
            "place",
            "location",
            "kept",
            "where kept",
            "shelf",
            "stored",
            "storage",
            "box",
            "bin",
            "kept in",
        ],
    },
    Column {
        name: "price",
        spellings: &["cost", "price each", "paid", "price paid", "unit price", "cost each"],
    },
    Column { name: "note", spellings: &["notes", "remark", "remarks", "comment", "comments", "memo"] },
];

/// Light, medium and dark, and what else people write for them.
pub(super) const VALUES: &[(&str, Value)] = &[
    ("light", Value::Light),
    ("medium", Value::Medium),
    ("dark", Value::Dark),
    ("l", Value::Light),
    ("m", Value::Medium),
    ("d", Value::Dark),
    ("lights", Value::Light),
    ("mediums", Value::Medium),
    ("darks", Value::Dark),
    ("med", Value::Medium),
    ("mid", Value::Medium),
    ("low volume", Value::Light),
    ("pale", Value::Light),
];
