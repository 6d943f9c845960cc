//! What `plan.json` says, as plain data: lengths in ticks, every number already in a safe range.

/// Width, height, position: whole ticks between 0 and [`LONGEST`].
pub(super) type Ticks = i64;

/// Nothing longer is read: 2^40 ticks are over two thousand miles, and sums and products of a file's
/// worth of them stay inside the 64 and 128 bits they are computed in.
pub(super) const LONGEST: Ticks = 1 << 40;

/// A plan with its alternatives.
pub(super) struct Record {
    pub(super) verdict: Verdict,
    pub(super) proof: String,
    pub(super) reasons: Vec<Reason>,
    pub(super) inputs: InputNames,
    pub(super) rules: Rules,
    pub(super) relaxed: Vec<Relaxed>,
    pub(super) fabric: Fabric,
    pub(super) preferences: Preferences,
    pub(super) upright: Option<Upright>,
    pub(super) methods: Methods,
    pub(super) totals: Vec<Total>,
    pub(super) sets: Vec<PlacedSet>,
    pub(super) sheets: Vec<Sheet>,
    pub(super) short: Vec<Short>,
    pub(super) places: Option<Places>,
    pub(super) purchases: Vec<Purchase>,
    pub(super) alternatives: Vec<Alternative>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    Fits,
    Impossible,
    Undecided,
}

pub(super) struct Reason {
    pub(super) code: String,
    pub(super) text: String,
    pub(super) weighing: Option<Weighing>,
    pub(super) cases: Vec<Case>,
}

/// One of the cases into which a refusal is divided; after a split come all cases within it, then all beyond it.
pub(super) struct Case {
    /// Divides what is left into two.
    pub(super) split: Option<Split>,
    /// Of a case that is refuted: what serving counts against each split that led to it, the outermost first.
    pub(super) prices: Vec<u64>,
    /// What refutes it.
    pub(super) weighing: Option<Weighing>,
}

/// Either these prints and sheets serve at most so many of these sets and pieces, or more.
pub(super) struct Split {
    pub(super) sets: Vec<InCopies>,
    pub(super) pieces: Vec<InCopies>,
    pub(super) prints: Vec<String>,
    pub(super) sheets: Vec<SomeSheets>,
    pub(super) most: u64,
}

/// Some of the sheets of a print that are alike, squared up.
pub(super) struct SomeSheets {
    pub(super) print: String,
    pub(super) cut: String,
    pub(super) width: Ticks,
    pub(super) height: Ticks,
    /// Which of them, from 1.
    pub(super) numbers: Vec<u64>,
}

/// Weights at which what must be cut weighs more than all fabric can serve.
pub(super) struct Weighing {
    /// Of everything weighed.
    pub(super) needed: i64,
    /// No cutting of all the fabric serves more.
    pub(super) most: i64,
    pub(super) items: Vec<Weighed>,
}

/// What has one weight.
pub(super) struct Weighed {
    pub(super) weight: i64,
    /// Sets, each as a whole.
    pub(super) sets: Vec<InCopies>,
    /// Pieces, each for itself.
    pub(super) pieces: Vec<InCopies>,
}

/// A set, or a piece by block, label and number, in each of these block copies.
pub(super) struct InCopies {
    pub(super) block: Option<String>,
    pub(super) copies: Vec<u64>,
    pub(super) role: String,
    pub(super) label: Option<String>,
    pub(super) piece: Option<u64>,
}

/// A file that was written with the record.
pub(super) struct WrittenFile {
    pub(super) name: String,
    pub(super) sha256: String,
}

#[derive(PartialEq, Eq)]
pub(super) struct InputNames {
    pub(super) stash: String,
    pub(super) pattern: String,
    pub(super) placements: Option<String>,
    /// Which of the pattern's sizes is planned; `None` when it has one only, without a name.
    pub(super) size: Option<String>,
}

/// The options of the run, without what an alternative relaxes.
#[derive(PartialEq, Eq)]
pub(super) struct Rules {
    /// Hundredths by family: scrap, precut, fat quarter, yardage.
    pub(super) weights: [u32; 4],
    pub(super) useful_side: Ticks,
    pub(super) allowance: Ticks,
    /// What was wished of the plan.
    pub(super) aim: String,
    /// In percent, for the sake of looks.
    pub(super) extra_fabric: u64,
    pub(super) effort: u64,
    /// Who solved the integer programmes.
    pub(super) solver: String,
    /// Who stopped the search, if somebody did.
    pub(super) stopped: Option<String>,
}

/// One change that an alternative makes to what was asked.
pub(super) enum Relaxed {
    OtherPrint { set: SetName, decided: String },
    Release { lot: u64 },
    MixedPrints { block: String, copies: Vec<u64>, role: String },
    TwoPrints { role: String, prints: Vec<String> },
    Method(Made),
    Size { size: String },
    FewerCopies { block: String, was: u64, make: u64 },
    Buy(Purchase),
    Rule { rule: String, role: String, other: Option<String> },
}

/// Fabric bought.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Purchase {
    pub(super) print: String,
    pub(super) cut: String,
    pub(super) width: Ticks,
    pub(super) length: Ticks,
    pub(super) count: u64,
    /// Of one, in hundredths.
    pub(super) price: Option<i128>,
}

pub(super) struct Fabric {
    pub(super) opened: i128,
    pub(super) bound: i128,
    /// Of the plan that opens least of those found.
    pub(super) least_met: i128,
    pub(super) proved: bool,
}

/// What the plan is measured by after its fabric.
pub(super) struct Preferences {
    pub(super) leftovers: Bounded,
    pub(super) layouts: Bounded,
    pub(super) settings: u64,
    pub(super) off_ruler: u64,
    pub(super) stages: u64,
    /// The distance between two marks of the ruler.
    pub(super) ruler_mark: Ticks,
    pub(super) text: String,
}

/// A figure with what is claimed of the best one.
pub(super) struct Bounded {
    pub(super) reached: i64,
    pub(super) bound: Option<i64>,
    pub(super) proved: bool,
}

/// What is said of keeping the up of directional prints.
pub(super) struct Upright {
    pub(super) prints: u64,
    /// Opened and bound with every piece free to turn.
    pub(super) opened: i128,
    pub(super) bound: i128,
    /// Area of the sheets these prints are cut into, and of the pieces on them.
    pub(super) cut_into: i128,
    pub(super) pieces: i128,
    pub(super) text: String,
}

/// How units are made.
pub(super) struct Methods {
    pub(super) units: Vec<Made>,
    /// Whether verdict and bound are said to hold for every way.
    pub(super) settled: bool,
    pub(super) text: String,
    /// Where no way fits: every other one that was refused.
    pub(super) refused: Vec<RefusedWays>,
}

/// A combination of ways that does not fit, with what proves it.
pub(super) struct RefusedWays {
    pub(super) units: Vec<Made>,
    pub(super) weighing: Option<Weighing>,
    pub(super) cases: Vec<Case>,
}

/// The method of a unit that may be made in several ways.
pub(super) struct Made {
    pub(super) block: String,
    pub(super) unit: String,
    pub(super) method: String,
}

pub(super) struct Total {
    pub(super) block: String,
    pub(super) label: String,
    pub(super) role: String,
    pub(super) width: Ticks,
    pub(super) height: Ticks,
    pub(super) need: u64,
    pub(super) cut: u64,
    pub(super) short: u64,
}

/// What names a set: all but the role are `None` for a set over the whole quilt; label and number are
/// there for a set of a single piece.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct SetName {
    pub(super) block: Option<String>,
    pub(super) copy: Option<u64>,
    pub(super) role: String,
    pub(super) label: Option<String>,
    pub(super) piece: Option<u64>,
}

pub(super) struct PlacedSet {
    pub(super) set: SetName,
    pub(super) print: String,
}

pub(super) struct Short {
    pub(super) set: SetName,
    pub(super) reason: String,
}

/// Where the blocks of a complete plan lie.
pub(super) struct Places {
    pub(super) copies: Vec<Placed>,
    /// Of copies that share a print.
    pub(super) prints: Crowding,
    /// Of copies that share a group of colours.
    pub(super) colors: Crowding,
    pub(super) closest: Option<Closest>,
}

/// How crowded like copies lie: for each two, what their distance counts, once for each thing they share.
pub(super) struct Crowding {
    pub(super) reached: i64,
    pub(super) bound: i64,
    pub(super) proved: bool,
}

/// A block copy and its place; row and column from 1.
#[derive(Clone, PartialEq, Eq)]
pub(super) struct Placed {
    pub(super) block: String,
    pub(super) copy: u64,
    pub(super) row: u64,
    pub(super) column: u64,
}

/// The two copies nearest to each other that share a print.
pub(super) struct Closest {
    pub(super) distance: u64,
    pub(super) print: String,
    pub(super) copies: Vec<Placed>,
}

pub(super) struct Sheet {
    pub(super) lot: Option<u64>,
    pub(super) bought: Option<String>,
    pub(super) print: String,
    pub(super) cut: String,
    pub(super) copy: u64,
    pub(super) width: Ticks,
    pub(super) height: Ticks,
    pub(super) used: Ticks,
    pub(super) pieces: Vec<CutPiece>,
    pub(super) leftovers: Vec<Rect>,
    pub(super) cuts: Vec<Cut>,
}

pub(super) struct CutPiece {
    pub(super) label: String,
    pub(super) block: String,
    pub(super) copy: u64,
    pub(super) role: String,
    pub(super) rect: Rect,
    pub(super) turned: bool,
}

pub(super) struct Cut {
    pub(super) order: u64,
    pub(super) region: Rect,
    pub(super) across: Across,
    pub(super) at: Ticks,
    pub(super) text: String,
}

/// The side of the region along which a cut's place is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Across {
    Width,
    Height,
}

/// A rectangle on a sheet, from the lower left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Rect {
    pub(super) x: Ticks,
    pub(super) y: Ticks,
    pub(super) width: Ticks,
    pub(super) height: Ticks,
}

pub(super) struct Alternative {
    pub(super) changes: Vec<String>,
    /// In hundredths.
    pub(super) amount: Option<i128>,
    pub(super) text: String,
    pub(super) plan: Record,
}

impl Rect {
    /// Right edge.
    pub(super) fn right(&self) -> Ticks {
        self.x + self.width
    }

    /// Upper edge.
    pub(super) fn top(&self) -> Ticks {
        self.y + self.height
    }

    /// Area in square ticks.
    pub(super) fn area(&self) -> i128 {
        i128::from(self.width) * i128::from(self.height)
    }

    /// True when the two share more than an edge.
    pub(super) fn overlaps(&self, other: &Rect) -> bool {
        self.x < other.right() && other.x < self.right() && self.y < other.top() && other.y < self.top()
    }
}

impl SetName {
    /// As a person names it.
    pub(super) fn say(&self) -> String {
        let mut said = format!("role {}", self.role);
        if let Some(block) = &self.block {
            said =
                format!("{block}{}, {said}", self.copy.map_or(String::new(), |copy| format!(" copy {copy}")));
        }
        if let Some(label) = &self.label {
            said += &format!(", {label}{}", self.piece.map_or(String::new(), |n| format!(" number {n}")));
        }
        said
    }
}

impl Verdict {
    /// As the record writes it.
    pub(super) fn word(self) -> &'static str {
        match self {
            Verdict::Fits => "fits",
            Verdict::Impossible => "impossible",
            Verdict::Undecided => "undecided",
        }
    }
}
