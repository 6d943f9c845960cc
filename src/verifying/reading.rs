//! `plan.json` -> [`Record`]. Every missing or unreadable field is reported, not only the first;
//! unknown fields are left alone, so that later versions may add to the format.
//!
//! Read by hand rather than derived: a derived reader stops at the first fault.

use serde_json::{Map, Value};

use super::fault::{Fault, Faults, Rule};
use super::fields::{Object, Reader, hundredths};
use super::record::{
    Alternative, Bounded, Case, Closest, Crowding, Fabric, InCopies, InputNames, Made, Methods, Placed,
    PlacedSet, Places, Preferences, Reason, Record, RefusedWays, SetName, Short, SomeSheets, Split, Total,
    Upright, Verdict, Weighed, Weighing, WrittenFile,
};
use crate::length::Length;

/// Reads the text of `plan.json`.
///
/// # Errors
/// All faults of form. Depth is limited by the JSON reader, so that no nesting can exhaust the stack.
pub(super) fn read(text: &str) -> Result<Record, Vec<Fault>> {
    let mut reader = Reader { faults: Faults::of("") };
    let value: Value = match serde_json::from_str(text) {
        Ok(value) => value,
        Err(error) => {
            reader.faults.add(Rule::Json, "", format!("this is not JSON: {error}"));
            return Err(reader.faults.into_list());
        }
    };
    // Of another format nothing else can be expected to be where we look for it.
    reader.tag(&value, "");
    if reader.faults.count() > 0 {
        return Err(reader.faults.into_list());
    }
    let record = reader.record(&value, "");
    if reader.faults.count() == 0 { Ok(record) } else { Err(reader.faults.into_list()) }
}

/// Reads which files the record names as its inputs, without asking more of it.
///
/// # Errors
/// When that much cannot be read.
pub(super) fn input_names(text: &str) -> Result<InputNames, Vec<Fault>> {
    let mut reader = Reader { faults: Faults::of("") };
    match serde_json::from_str::<Value>(text) {
        Err(error) => reader.faults.add(Rule::Json, "", format!("this is not JSON: {error}")),
        Ok(value) => {
            reader.tag(&value, "");
            if reader.faults.count() == 0 {
                let root = reader.object(&value, "the file");
                let names = reader.inputs(&root);
                if reader.faults.count() == 0 {
                    return Ok(names);
                }
            }
        }
    }
    Err(reader.faults.into_list())
}

/// Reads which files the record was written with.
///
/// # Errors
/// When that much cannot be read.
pub(super) fn files(text: &str) -> Result<Vec<WrittenFile>, Vec<Fault>> {
    let mut reader = Reader { faults: Faults::of("") };
    let value: Value = serde_json::from_str(text).unwrap_or_default();
    let root = reader.object(&value, "");
    let files = reader.list(&root, "files", |reader, file| WrittenFile {
        name: reader.text(file, "name"),
        sha256: reader.text(file, "sha256"),
    });
    if reader.faults.count() == 0 { Ok(files) } else { Err(reader.faults.into_list()) }
}

impl Reader {
    fn tag(&mut self, value: &Value, path: &str) {
        let before = self.faults.count();
        let root = self.object(value, path);
        let format = self.text(&root, "format");
        let version = self.count(&root, "version");
        let ticks = self.length(&root, "ticks_per_inch");
        if self.faults.count() > before {
            return;
        }
        if format != "cutcloth-plan" || version != 1 {
            let message = format!(
                "the format is \"{format}\", version {version}; expected \"cutcloth-plan\", version 1"
            );
            self.faults.add(Rule::Format, path, message);
        }
        if ticks != Length::TICKS_PER_INCH {
            let message = format!("{ticks} ticks to the inch; expected {}", Length::TICKS_PER_INCH);
            self.faults.add(Rule::Format, path, message);
        }
    }

    fn maybe_weighing(&mut self, object: &Object<'_>) -> Option<Weighing> {
        let weighing = self.maybe_inner(object, "weighing")?;
        Some(self.weighing(&weighing))
    }

    fn cases(&mut self, item: &Object<'_>) -> Vec<Case> {
        self.list(item, "cases", |reader, case| Case {
            split: reader.maybe_inner(case, "split").map(|split| Split {
                sets: reader.list(&split, "sets", Reader::in_copies),
                pieces: reader.list(&split, "pieces", Reader::in_copies),
                prints: reader.texts(&split, "prints"),
                sheets: reader.list(&split, "sheets", |reader, sheets| SomeSheets {
                    print: reader.text(sheets, "print"),
                    cut: reader.text(sheets, "cut"),
                    width: reader.length(sheets, "width"),
                    height: reader.length(sheets, "height"),
                    numbers: reader.numbers(sheets, "numbers"),
                }),
                most: reader.count(&split, "most"),
            }),
            prices: reader.numbers(case, "prices"),
            weighing: reader.maybe_weighing(case),
        })
    }

    fn weighing(&mut self, object: &Object<'_>) -> Weighing {
        Weighing {
            needed: self.whole(object, "needed"),
            most: self.whole(object, "most"),
            items: self.list(object, "items", |reader, item| Weighed {
                weight: reader.whole(item, "weight"),
                sets: reader.list(item, "sets", Reader::in_copies),
                pieces: reader.list(item, "pieces", Reader::in_copies),
            }),
        }
    }

    fn in_copies(&mut self, item: &Object<'_>) -> InCopies {
        InCopies {
            block: self.maybe_text(item, "block"),
            copies: self.numbers(item, "copies"),
            role: self.text(item, "role"),
            label: self.maybe_text(item, "label"),
            piece: self.maybe_count(item, "piece"),
        }
    }

    fn record(&mut self, value: &Value, path: &str) -> Record {
        let root = self.object(value, path);
        let verdict = match self.text(&root, "verdict").as_str() {
            "fits" => Verdict::Fits,
            "impossible" => Verdict::Impossible,
            "undecided" => Verdict::Undecided,
            other => {
                let found = format!("\"{other}\" is none of fits, impossible, undecided");
                self.wrong(&root.path_to("verdict"), &found);
                Verdict::Undecided
            }
        };
        let (rules, relaxed) = self.rules(&root);
        Record {
            verdict,
            proof: self.text(&root, "proof"),
            reasons: self.list(&root, "reasons", |reader, item| Reason {
                code: reader.text(item, "code"),
                text: reader.text(item, "text"),
                weighing: reader.maybe_weighing(item),
                cases: reader.cases(item),
            }),
            inputs: self.inputs(&root),
            rules,
            relaxed,
            fabric: self.fabric(&root),
            preferences: self.preferences(&root),
            upright: self.maybe_inner(&root, "upright").map(|upright| self.upright(&upright)),
            methods: self.methods(&root),
            totals: self.list(&root, "totals", Reader::total),
            sets: self.list(&root, "sets", |reader, item| PlacedSet {
                set: reader.set(item),
                print: reader.text(item, "print"),
            }),
            sheets: self.list(&root, "sheets", Reader::sheet),
            short: self.list(&root, "short", |reader, item| Short {
                set: reader.set(item),
                reason: reader.text(item, "reason"),
            }),
            places: self.maybe_inner(&root, "places").map(|places| self.places(&places)),
            purchases: self.list(&root, "purchases", Reader::purchase),
            alternatives: self.list(&root, "alternatives", Reader::alternative),
        }
    }

    fn inputs(&mut self, root: &Object<'_>) -> InputNames {
        let inputs = self.inner(root, "inputs");
        InputNames {
            stash: self.text(&inputs, "stash"),
            pattern: self.text(&inputs, "pattern"),
            placements: self.maybe_text(&inputs, "placements"),
            size: self.maybe_text(&inputs, "size"),
        }
    }

    fn places(&mut self, places: &Object<'_>) -> Places {
        Places {
            copies: self.list(places, "copies", Reader::placed),
            prints: self.crowding(places, "prints"),
            colors: self.crowding(places, "colors"),
            closest: self.maybe_inner(places, "closest").map(|closest| Closest {
                distance: self.count(&closest, "distance"),
                print: self.text(&closest, "print"),
                copies: self.list(&closest, "copies", Reader::placed),
            }),
        }
    }

    fn crowding(&mut self, places: &Object<'_>, name: &str) -> Crowding {
        let crowding = self.inner(places, name);
        Crowding {
            reached: self.whole(&crowding, "reached"),
            bound: self.whole(&crowding, "bound"),
            proved: self.flag(&crowding, "proved"),
        }
    }

    fn placed(&mut self, item: &Object<'_>) -> Placed {
        Placed {
            block: self.text(item, "block"),
            copy: self.count(item, "copy"),
            row: self.count(item, "row"),
            column: self.count(item, "column"),
        }
    }

    fn fabric(&mut self, root: &Object<'_>) -> Fabric {
        let fabric = self.inner(root, "fabric");
        Fabric {
            opened: self.whole(&fabric, "opened").into(),
            bound: self.whole(&fabric, "bound").into(),
            least_met: self.whole(&fabric, "least_met").into(),
            proved: self.flag(&fabric, "proved"),
        }
    }

    fn preferences(&mut self, root: &Object<'_>) -> Preferences {
        let preferences = self.inner(root, "preferences");
        Preferences {
            leftovers: self.bounded(&preferences, "leftovers"),
            layouts: self.bounded(&preferences, "layouts"),
            settings: self.count(&preferences, "settings"),
            off_ruler: self.count(&preferences, "off_ruler"),
            stages: self.count(&preferences, "stages"),
            ruler_mark: self.length(&preferences, "ruler_mark"),
            text: self.text(&preferences, "text"),
        }
    }

    fn bounded(&mut self, preferences: &Object<'_>, name: &str) -> Bounded {
        let bounded = self.inner(preferences, name);
        Bounded {
            reached: self.whole(&bounded, "reached"),
            bound: self.maybe_whole(&bounded, "bound"),
            proved: self.flag(&bounded, "proved"),
        }
    }

    fn upright(&mut self, upright: &Object<'_>) -> Upright {
        Upright {
            prints: self.count(upright, "prints"),
            opened: self.whole(upright, "opened").into(),
            bound: self.whole(upright, "bound").into(),
            cut_into: self.whole(upright, "cut_into").into(),
            pieces: self.whole(upright, "pieces").into(),
            text: self.text(upright, "text"),
        }
    }

    fn methods(&mut self, root: &Object<'_>) -> Methods {
        let methods = self.inner(root, "methods");
        Methods {
            units: self.list(&methods, "units", Reader::made),
            settled: self.flag(&methods, "settled"),
            text: self.text(&methods, "text"),
            refused: self.list(&methods, "refused", |reader, item| RefusedWays {
                units: reader.list(item, "units", Reader::made),
                weighing: reader.maybe_weighing(item),
                cases: reader.cases(item),
            }),
        }
    }

    pub(super) fn made(&mut self, item: &Object<'_>) -> Made {
        Made {
            block: self.text(item, "block"),
            unit: self.text(item, "unit"),
            method: self.text(item, "method"),
        }
    }

    fn total(&mut self, item: &Object<'_>) -> Total {
        Total {
            block: self.text(item, "block"),
            label: self.text(item, "label"),
            role: self.text(item, "role"),
            width: self.length(item, "width"),
            height: self.length(item, "height"),
            need: self.count(item, "need"),
            cut: self.count(item, "cut"),
            short: self.count(item, "short"),
        }
    }

    pub(super) fn set(&mut self, item: &Object<'_>) -> SetName {
        SetName {
            block: self.maybe_text(item, "block"),
            copy: self.maybe_count(item, "copy"),
            role: self.text(item, "role"),
            label: self.maybe_text(item, "label"),
            piece: self.maybe_count(item, "piece"),
        }
    }

    fn alternative(&mut self, item: &Object<'_>) -> Alternative {
        let changes = self.texts(item, "changes");
        let cost = self.inner(item, "cost");
        let amount = match self.field(&cost, "amount") {
            None | Some(Value::Null) => None,
            Some(Value::Number(number)) if hundredths(number).is_some() => hundredths(number),
            Some(other) => {
                let found = format!("{other} is not a sum of money with at most two decimals");
                self.wrong(&cost.path_to("amount"), &found);
                None
            }
        };
        let text = self.text(&cost, "text");
        let plan = match self.field(item, "plan") {
            Some(plan) => {
                self.tag(plan, &item.path_to("plan"));
                self.record(plan, &item.path_to("plan"))
            }
            None => self.record(&Value::Object(Map::new()), &item.path_to("plan")),
        };
        Alternative { changes, amount, text, plan }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_missing_field_is_reported_at_once() {
        let text = r#"{"format":"cutcloth-plan","version":1,"ticks_per_inch":8128}"#;
        let faults = read(text).map(|_| ()).expect_err("nearly everything is missing");
        assert!(faults.iter().all(|fault| fault.rule == Rule::Field));
        for field in ["verdict", "proof", "reasons", "inputs", "rules", "fabric", "totals", "sheets", "short"]
        {
            assert!(
                faults.iter().any(|fault| fault.place == format!("field \"{field}\"")),
                "{field} is not reported"
            );
        }
    }

    #[test]
    fn deep_nesting_is_refused_without_a_crash() {
        let text = "[".repeat(100_000);
        let faults = read(&text).map(|_| ()).expect_err("not a plan");
        assert_eq!(faults[0].rule, Rule::Json);
    }
}
