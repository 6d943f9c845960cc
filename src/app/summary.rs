//! A plan in a few lines, taken from its record, so that what is said here is what was checked.

use serde_json::Value;

use crate::length::{Length, Units};
use crate::report;
pub use crate::report::gap;
use crate::verifying::Claim;

/// Does it fit?
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Verdict {
    /// It fits.
    Fits,
    /// Proved: it does not fit.
    Impossible,
    /// Not known.
    Undecided,
}

/// The numbers that matter.
#[derive(Clone, Debug)]
pub struct Summary {
    /// The verdict.
    pub verdict: Verdict,
    /// What it rests on, in one sentence.
    pub proof: String,
    /// Every reason.
    pub reasons: Vec<String>,
    /// For how many combinations of ways of making units the check has shown again, without the search, that it does
    /// not fit, and how many had to be refused: one where the pattern leaves no choice.
    pub shown_again: (usize, usize),
    /// True when some proof could not be made again because the work allowed for it ended.
    pub has_more_to_show: bool,
    /// Sheets opened.
    pub sheets: usize,
    /// Ways in which they are cut: sheets of one size with the same cuts count once.
    pub layouts: u64,
    /// Pieces cut and pieces needed.
    pub pieces: (u64, u64),
    /// Fabric opened by weight, and what no complete plan can go below; hundredths of square ticks.
    pub opened: (i128, i128),
    /// Fabric cut into, in square ticks: sheets whole, yardage up to the last piece.
    pub cut_into: i128,
    /// The measures that come after the fabric, with what is known of the best; nothing where no sheet is opened.
    pub preferences: String,
    /// That the search was stopped, if it was; how units are made where the pattern leaves a choice, and what keeping
    /// the up of prints costs.
    pub choices: Vec<String>,
    /// How the quilt looks, a sentence each.
    pub looks: Vec<String>,
    /// Leftovers with a shorter side of at least the useful length, and that length.
    pub kept: (usize, Length),
    /// What is short and why, one line each.
    pub short: Vec<String>,
    /// What would make it fit, one each.
    pub alternatives: Vec<Way>,
}

/// One alternative.
#[derive(Clone, Debug)]
pub struct Way {
    /// What changes.
    pub changes: Vec<String>,
    /// What it costs.
    pub cost: String,
}

impl Summary {
    /// Sums up a record that was found right, but for proofs for which the work of the check ended; `None` for anything
    /// else.
    pub(super) fn read(record: &str, work_ended: &[Claim]) -> Option<Summary> {
        let record: Value = serde_json::from_str(record).ok()?;
        let verdict = match record["verdict"].as_str()? {
            "fits" => Verdict::Fits,
            "impossible" => Verdict::Impossible,
            _ => Verdict::Undecided,
        };
        let useful = record["rules"]["useful_side"].as_i64()?;
        let sheets = record["sheets"].as_array()?;
        let leftovers = sheets.iter().filter_map(|sheet| sheet["leftovers"].as_array()).flatten();
        let kept = leftovers.filter(|rect| {
            let side = |name: &str| rect[name].as_i64().unwrap_or(0);
            side("width").min(side("height")) >= useful
        });
        let total = |name: &str| -> Option<u64> {
            Some(record["totals"].as_array()?.iter().filter_map(|line| line[name].as_u64()).sum())
        };
        Some(Summary {
            verdict,
            proof: text(&record["proof"]),
            reasons: record["reasons"].as_array()?.iter().map(|reason| text(&reason["text"])).collect(),
            shown_again: shown_again(&record, work_ended)?,
            has_more_to_show: !work_ended.is_empty(),
            sheets: sheets.len(),
            layouts: record["preferences"]["layouts"]["reached"].as_u64()?,
            pieces: (total("cut")?, total("need")?),
            opened: (record["fabric"]["opened"].as_i64()?.into(), record["fabric"]["bound"].as_i64()?.into()),
            cut_into: sheets.iter().map(cut_into).sum::<Option<i128>>()?,
            preferences: text(&record["preferences"]["text"]),
            choices: record["rules"]["stopped"]
                .as_str()
                .map(report::stopped)
                .into_iter()
                .chain(record["rules"]["solver"].as_str().and_then(report::solver))
                .chain([&record["upright"]["text"], &record["methods"]["text"]].map(text))
                .filter(|said| !said.is_empty())
                .collect(),
            looks: record["looks"]["text"].as_array()?.iter().map(text).collect(),
            kept: (kept.count(), Length::from_ticks(useful)),
            short: record["short"].as_array()?.iter().map(short).collect(),
            alternatives: record["alternatives"].as_array()?.iter().map(way).collect(),
        })
    }

    /// Fabric cut into as text, with how far from the least it may be.
    pub fn fabric(&self, units: Units) -> String {
        let said = area(self.cut_into * 100, units);
        let (opened, bound) = self.opened;
        match self.verdict {
            Verdict::Fits if opened == bound => format!("{said}, claimed least"),
            Verdict::Fits => format!("{said} (gap {} %)", gap(opened, bound)),
            Verdict::Impossible | Verdict::Undecided => said,
        }
    }
}

/// Weighted square ticks in hundredths, as whole square inches or centimetres, to the nearest.
pub fn area(hundredths: i128, units: Units) -> String {
    let (side, name) = match units {
        Units::Inches => (i128::from(Length::TICKS_PER_INCH), "sq in"),
        Units::Metric => (i128::from(Length::TICKS_PER_TENTH_MM) * 100, "sq cm"),
    };
    let unit = side * side * 100;
    format!("{} {name}", (hundredths * 2 + unit) / (2 * unit))
}

/// Area of a sheet up to the length that is used of it, in square ticks.
fn cut_into(sheet: &Value) -> Option<i128> {
    Some(i128::from(sheet["width"].as_i64()?) * i128::from(sheet["used"].as_i64()?))
}

fn short(item: &Value) -> String {
    let mut name = format!("fabric {}", text(&item["role"]));
    if let (Some(block), Some(copy)) = (item["block"].as_str(), item["copy"].as_u64()) {
        name = format!("{block} {copy}, {name}");
    }
    if let Some(label) = item["label"].as_str() {
        name += &format!(", piece {label}");
    }
    format!("{name}: {}", text(&item["reason"]))
}

fn way(item: &Value) -> Way {
    let changes = item["changes"].as_array().map(|list| list.iter().map(text).collect()).unwrap_or_default();
    Way { changes, cost: text(&item["cost"]["text"]) }
}

fn text(value: &Value) -> String {
    value.as_str().unwrap_or_default().to_owned()
}

/// How many refusals carry all that the check needs to come to them by itself, and how many there are: that of the ways
/// taken, for which any one reason is enough, and those of the others.
fn shown_again(record: &Value, work_ended: &[Claim]) -> Option<(usize, usize)> {
    let shown = |held: &Value, claim: Claim| {
        let weighed =
            !held["weighing"].is_null() || held["cases"].as_array().is_some_and(|cases| !cases.is_empty());
        (weighed || held["code"] == "area") && !work_ended.contains(&claim)
    };
    let reasons = record["reasons"].as_array()?;
    let taken = reasons.iter().enumerate().any(|(index, one)| shown(one, Claim::Reason(index)));
    let others = record["methods"]["refused"].as_array()?;
    let others_shown = others.iter().enumerate().filter(|&(index, one)| shown(one, Claim::Ways(index)));
    Some((usize::from(taken) + others_shown.count(), 1 + others.len()))
}

impl Summary {
    /// Did the check make again all that proves that it does not fit? True of any other verdict.
    pub fn is_proved_again(&self) -> bool {
        self.verdict != Verdict::Impossible || self.shown_again.0 == self.shown_again.1
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn areas_are_said_in_whole_units_to_the_nearest() {
        let inch = i128::from(Length::TICKS_PER_INCH) * i128::from(Length::TICKS_PER_INCH) * 100;
        assert_eq!(area(inch * 100, Units::Inches), "100 sq in");
        assert_eq!(area(inch / 2, Units::Inches), "1 sq in");
        assert_eq!(area(inch / 2 - 1, Units::Inches), "0 sq in");
        // 1 sq in = 6.4516 sq cm.
        assert_eq!(area(inch * 100, Units::Metric), "645 sq cm");
    }
}
