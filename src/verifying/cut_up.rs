//! Sheets with their pieces, leftovers and cuts, as the record gives them.

use super::fields::{Object, Reader};
use super::record::{Across, Cut, CutPiece, Rect, Sheet};

impl Reader {
    pub(super) fn sheet(&mut self, item: &Object<'_>) -> Sheet {
        Sheet {
            lot: self.maybe_count(item, "lot"),
            bought: self.maybe_text(item, "bought"),
            print: self.text(item, "print"),
            cut: self.text(item, "cut"),
            copy: self.count(item, "copy"),
            width: self.length(item, "width"),
            height: self.length(item, "height"),
            used: self.length(item, "used"),
            pieces: self.list(item, "pieces", |reader, piece| CutPiece {
                label: reader.text(piece, "label"),
                block: reader.text(piece, "block"),
                copy: reader.count(piece, "copy"),
                role: reader.text(piece, "role"),
                rect: reader.rect(piece),
                turned: reader.flag(piece, "turned"),
            }),
            leftovers: self.list(item, "leftovers", Reader::rect),
            cuts: self.list(item, "cuts", Reader::cut),
        }
    }

    pub(super) fn cut(&mut self, item: &Object<'_>) -> Cut {
        let across = match self.text(item, "across").as_str() {
            "width" => Across::Width,
            "height" => Across::Height,
            other => {
                let found = format!("\"{other}\" is neither width nor height");
                self.wrong(&item.path_to("across"), &found);
                Across::Width
            }
        };
        Cut {
            order: self.count(item, "order"),
            region: self.rect(item),
            across,
            at: self.length(item, "at"),
            text: self.text(item, "text"),
        }
    }

    pub(super) fn rect(&mut self, item: &Object<'_>) -> Rect {
        Rect {
            x: self.length(item, "x"),
            y: self.length(item, "y"),
            width: self.length(item, "width"),
            height: self.length(item, "height"),
        }
    }
}
