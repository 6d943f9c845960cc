//! The shape of `plan.json`: file types kept apart from the model, fields in the order in which they are written.

use serde::Serialize;

use crate::report::Digest;

#[derive(Serialize)]
pub(super) struct PlanRecord {
    pub(super) format: &'static str,
    pub(super) version: u32,
    pub(super) ticks_per_inch: i64,
    pub(super) verdict: &'static str,
    pub(super) proof: String,
    pub(super) reasons: Vec<ReasonRecord>,
    pub(super) inputs: InputsRecord,
    pub(super) files: Vec<Digest>,
    pub(super) rules: RulesRecord,
    pub(super) fabric: FabricRecord,
    pub(super) preferences: PreferencesRecord,
    pub(super) upright: Option<UprightRecord>,
    pub(super) methods: MethodsRecord,
    pub(super) totals: Vec<TotalRecord>,
    pub(super) sets: Vec<SetRecord>,
    pub(super) sheets: Vec<SheetRecord>,
    pub(super) short: Vec<ShortRecord>,
    pub(super) places: Option<PlacesRecord>,
    pub(super) purchases: Vec<PurchaseRecord>,
    pub(super) alternatives: Vec<AlternativeRecord>,
}

#[derive(Serialize)]
pub(super) struct ReasonRecord {
    pub(super) code: &'static str,
    pub(super) text: String,
    pub(super) weighing: Option<WeighingRecord>,
    pub(super) cases: Vec<CaseRecord>,
}

#[derive(Serialize)]
pub(super) struct CaseRecord {
    pub(super) split: Option<SplitRecord>,
    pub(super) prices: Vec<i64>,
    pub(super) weighing: Option<WeighingRecord>,
}

#[derive(Serialize)]
pub(super) struct SplitRecord {
    pub(super) sets: Vec<InCopiesRecord>,
    pub(super) pieces: Vec<InCopiesRecord>,
    pub(super) prints: Vec<String>,
    pub(super) sheets: Vec<SomeSheetsRecord>,
    pub(super) most: u32,
}

#[derive(Serialize)]
pub(super) struct SomeSheetsRecord {
    pub(super) print: String,
    pub(super) cut: String,
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) numbers: Vec<u32>,
}

#[derive(Serialize)]
pub(super) struct WeighingRecord {
    pub(super) needed: i64,
    pub(super) most: i64,
    pub(super) items: Vec<WeighedRecord>,
}

#[derive(Serialize)]
pub(super) struct WeighedRecord {
    pub(super) weight: i64,
    pub(super) sets: Vec<InCopiesRecord>,
    pub(super) pieces: Vec<InCopiesRecord>,
}

#[derive(Serialize)]
pub(super) struct InCopiesRecord {
    pub(super) block: Option<String>,
    pub(super) copies: Vec<u32>,
    pub(super) role: String,
    pub(super) label: Option<String>,
    pub(super) piece: Option<u32>,
}

#[derive(Serialize)]
pub(super) struct InputsRecord {
    pub(super) stash: String,
    pub(super) pattern: String,
    pub(super) placements: Option<String>,
    pub(super) size: Option<String>,
}

#[derive(Serialize)]
pub(super) struct RulesRecord {
    pub(super) weights: WeightsRecord,
    pub(super) useful_side: i64,
    pub(super) allowance: i64,
    pub(super) aim: &'static str,
    pub(super) extra_fabric: u32,
    pub(super) effort: u32,
    pub(super) solver: &'static str,
    pub(super) cutting: &'static str,
    pub(super) stopped: Option<&'static str>,
    pub(super) relaxed: Vec<RelaxedRecord>,
}

#[derive(Serialize)]
pub(super) struct WeightsRecord {
    pub(super) scrap: u32,
    pub(super) precut: u32,
    pub(super) fat_quarter: u32,
    pub(super) yardage: u32,
}

#[derive(Serialize)]
#[serde(tag = "kind")]
pub(super) enum RelaxedRecord {
    #[serde(rename = "other print")]
    OtherPrint {
        block: Option<String>,
        copy: Option<u32>,
        role: String,
        label: Option<String>,
        piece: Option<u32>,
        decided: String,
    },
    #[serde(rename = "release")]
    Release { lot: Option<u32> },
    #[serde(rename = "mixed prints")]
    MixedPrints { block: String, copies: Vec<u32>, role: String },
    #[serde(rename = "two prints")]
    TwoPrints { role: String, prints: [String; 2] },
    #[serde(rename = "rule")]
    Rule { rule: &'static str, role: String, other: Option<String> },
    #[serde(rename = "method")]
    Method { block: String, unit: String, method: &'static str },
    #[serde(rename = "size")]
    Size { size: String },
    #[serde(rename = "fewer copies")]
    FewerCopies { block: String, was: u32, make: u32 },
    #[serde(rename = "buy")]
    Buy(PurchaseRecord),
}

#[derive(Serialize)]
pub(super) struct FabricRecord {
    pub(super) opened: i128,
    pub(super) bound: i128,
    pub(super) least_met: i128,
    pub(super) proved: bool,
}

#[derive(Serialize)]
pub(super) struct PreferencesRecord {
    pub(super) leftovers: BoundedRecord,
    pub(super) layouts: BoundedRecord,
    pub(super) settings: usize,
    pub(super) off_ruler: usize,
    pub(super) stages: usize,
    pub(super) ruler_mark: i64,
    pub(super) text: String,
}

#[derive(Serialize)]
pub(super) struct BoundedRecord {
    pub(super) reached: i128,
    pub(super) bound: Option<i128>,
    pub(super) proved: bool,
}

#[derive(Serialize)]
pub(super) struct UprightRecord {
    pub(super) prints: usize,
    pub(super) opened: i128,
    pub(super) bound: i128,
    pub(super) cut_into: i128,
    pub(super) pieces: i128,
    pub(super) text: String,
}

#[derive(Serialize)]
pub(super) struct MethodsRecord {
    pub(super) units: Vec<MadeRecord>,
    pub(super) settled: bool,
    pub(super) text: String,
    pub(super) refused: Vec<RefusedRecord>,
}

#[derive(Serialize)]
pub(super) struct RefusedRecord {
    pub(super) units: Vec<MadeRecord>,
    pub(super) weighing: Option<WeighingRecord>,
    pub(super) cases: Vec<CaseRecord>,
}

#[derive(Serialize)]
pub(super) struct MadeRecord {
    pub(super) block: String,
    pub(super) unit: String,
    pub(super) method: &'static str,
}

#[derive(Serialize)]
pub(super) struct TotalRecord {
    pub(super) block: String,
    pub(super) label: String,
    pub(super) role: String,
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) need: u32,
    pub(super) cut: u32,
    pub(super) short: u32,
}

#[derive(Serialize)]
pub(super) struct SetRecord {
    pub(super) block: Option<String>,
    pub(super) copy: Option<u32>,
    pub(super) role: String,
    pub(super) label: Option<String>,
    pub(super) piece: Option<u32>,
    pub(super) print: String,
}

#[derive(Serialize)]
pub(super) struct ShortRecord {
    pub(super) block: Option<String>,
    pub(super) copy: Option<u32>,
    pub(super) role: String,
    pub(super) label: Option<String>,
    pub(super) piece: Option<u32>,
    pub(super) reason: String,
}

#[derive(Serialize)]
pub(super) struct PlacesRecord {
    pub(super) copies: Vec<PlaceRecord>,
    pub(super) prints: CrowdingRecord,
    pub(super) colors: CrowdingRecord,
    pub(super) closest: Option<ClosestRecord>,
}

#[derive(Serialize)]
pub(super) struct CrowdingRecord {
    pub(super) reached: u64,
    pub(super) bound: u64,
    pub(super) proved: bool,
}

#[derive(Serialize)]
pub(super) struct PlaceRecord {
    pub(super) block: String,
    pub(super) copy: u32,
    pub(super) row: u32,
    pub(super) column: u32,
}

#[derive(Serialize)]
pub(super) struct ClosestRecord {
    pub(super) distance: u32,
    pub(super) print: String,
    pub(super) copies: [PlaceRecord; 2],
}

#[derive(Serialize)]
pub(super) struct SheetRecord {
    pub(super) lot: Option<u32>,
    pub(super) bought: Option<String>,
    pub(super) print: String,
    pub(super) cut: String,
    pub(super) copy: u32,
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) used: i64,
    pub(super) instead_of: Option<TighterRecord>,
    pub(super) pieces: Vec<PieceRecord>,
    pub(super) leftovers: Vec<RectRecord>,
    pub(super) cuts: Vec<CutRecord>,
}

#[derive(Serialize)]
pub(super) struct TighterRecord {
    pub(super) used: i64,
    pub(super) cuts: usize,
}

#[derive(Serialize)]
pub(super) struct PieceRecord {
    pub(super) label: String,
    pub(super) block: String,
    pub(super) copy: u32,
    pub(super) role: String,
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) turned: bool,
}

#[derive(Serialize)]
pub(super) struct RectRecord {
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) width: i64,
    pub(super) height: i64,
}

#[derive(Serialize)]
pub(super) struct CutRecord {
    pub(super) order: u32,
    pub(super) x: i64,
    pub(super) y: i64,
    pub(super) width: i64,
    pub(super) height: i64,
    pub(super) across: &'static str,
    pub(super) at: i64,
    pub(super) text: String,
}

#[derive(Serialize)]
pub(super) struct PurchaseRecord {
    pub(super) print: String,
    pub(super) cut: String,
    pub(super) width: i64,
    pub(super) length: i64,
    pub(super) count: u32,
    pub(super) price: Option<i64>,
}

#[derive(Serialize)]
pub(super) struct AlternativeRecord {
    pub(super) changes: Vec<String>,
    pub(super) cost: CostRecord,
    pub(super) plan: PlanRecord,
}

#[derive(Serialize)]
pub(super) struct CostRecord {
    pub(super) amount: Option<f64>,
    pub(super) text: String,
}
