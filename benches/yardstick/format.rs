//! The neutral instance format: one JSON object a line, lengths whole numbers. Here one unit of length is one tick.

use cutcloth::cutting::{Kind, Layout, Sheet};
use cutcloth::length::Length;
use serde::Deserialize;
use serde_json::{Value, json};

/// One instance.
#[derive(Deserialize)]
pub(crate) struct Instance {
    pub(crate) id: String,
    pub(crate) objective: String,
    #[serde(default)]
    pub(crate) stages: u32,
    pub(crate) sheets: Vec<SheetRow>,
    pub(crate) items: Vec<ItemRow>,
}

/// A kind of sheet.
#[derive(Deserialize)]
pub(crate) struct SheetRow {
    id: Value,
    pub(crate) w: i64,
    pub(crate) h: i64,
    pub(crate) copies: Option<u32>,
    pub(crate) cost: i64,
    /// The print; only the quilt set has them.
    #[serde(default)]
    pub(crate) print: Option<String>,
}

/// A kind of piece.
#[derive(Deserialize)]
pub(crate) struct ItemRow {
    id: Value,
    pub(crate) w: i64,
    pub(crate) h: i64,
    pub(crate) demand: Option<u32>,
    #[serde(default)]
    pub(crate) profit: i64,
    #[serde(default)]
    pub(crate) rotatable: bool,
    /// Matching group; only the quilt set has them.
    #[serde(default)]
    pub(crate) group: Option<Value>,
}

impl Instance {
    pub(crate) fn kinds(&self) -> Vec<Kind> {
        let length = Length::from_ticks;
        self.items
            .iter()
            .map(|i| Kind { width: length(i.w), height: length(i.h), turn: i.rotatable })
            .collect()
    }

    pub(crate) fn sheet(&self, at: usize) -> Sheet {
        let row = &self.sheets[at];
        Sheet { width: Length::from_ticks(row.w), height: Length::from_ticks(row.h) }
    }

    /// A plan in the checker's format; `unit` is how many ticks of the layouts are one of the instance's lengths.
    pub(crate) fn plan(&self, layouts: &[(usize, Layout, u32)], unit: i64) -> Value {
        let sheets: Vec<Value> = layouts
            .iter()
            .map(|(sheet, layout, copies)| {
                let pieces: Vec<Value> = layout
                    .pieces()
                    .into_iter()
                    .map(|(kind, rect, _)| {
                        json!({"item": self.items[kind].id, "x": rect.x.ticks() / unit, "y": rect.y.ticks() / unit,
                               "w": rect.width.ticks() / unit, "h": rect.height.ticks() / unit})
                    })
                    .collect();
                json!({"sheet": self.sheets[*sheet].id, "copies": copies, "pieces": pieces})
            })
            .collect();
        json!({"id": self.id, "sheets": sheets})
    }
}
