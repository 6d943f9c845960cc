//! A small made-up quilt with a plan made by hand, so that the sheet can be checked without the engine.

use cutcloth::arranging::Arranged;
use cutcloth::cutting::{Axis, Kind, Layout, Node, Split};
use cutcloth::fabric::{Cut, Price};
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened, PieceId, SetId};
use cutcloth::pattern::{Block, BlockId, Count, Matching, Pattern, PieceLine, Role, RoleId, Shape};
use cutcloth::planning::{
    Alternative, Change, Fabric, Outcome, Plan, PreferenceBounds, Reason, Rules, SheetPlan, Short, Verdict,
};
use cutcloth::report::{Job, ReportError, Settings, render};
use cutcloth::stash::{Lot, LotId, Print, PrintId, Stash};

/// Eighths of an inch.
pub(crate) fn e(eighths: i64) -> Length {
    Length::from_eighths(eighths)
}

/// Everything a run is told from.
pub(crate) struct Quilt {
    pub(crate) stash: Stash,
    pub(crate) pattern: Pattern,
    pub(crate) demand: Demand,
    pub(crate) outcome: Outcome,
    pub(crate) rules: Rules,
    pub(crate) settings: Settings,
}

impl Quilt {
    /// Every file of the run.
    pub(crate) fn files(&self) -> Result<Vec<(String, Vec<u8>)>, ReportError> {
        render(&Job {
            stash: &self.stash,
            pattern: &self.pattern,
            demand: &self.demand,
            outcome: &self.outcome,
            arranged: &Arranged::default(),
            rules: &self.rules,
            settings: &self.settings,
        })
    }

    /// One file as text.
    pub(crate) fn file(&self, name: &str) -> String {
        let files = self.files().expect("the totals close");
        let bytes = files.into_iter().find(|(found, _)| found == name).expect("the file is written").1;
        String::from_utf8(bytes).expect("every file is text")
    }
}

/// A lot with the fields that matter here.
pub(crate) fn lot(row: u32, print: usize, cut: &str, width: Length, length: Length) -> Lot {
    let cut = Cut::find(cut).expect("a cut of the trade");
    Lot { row: Some(row), ..Lot::plain(PrintId(print), cut, width, length) }
}

/// A line of the chart; sizes in eighths.
pub(crate) fn line(
    label: &str,
    role: usize,
    width: i64,
    height: i64,
    count: u32,
    matching: Matching,
) -> PieceLine {
    PieceLine {
        label: label.to_owned(),
        role: RoleId(role),
        width: e(width),
        height: e(height),
        count: Count::PerCopy(count),
        shape: Shape::Rectangle,
        matching,
        line: 2,
    }
}

/// A part that is one piece.
pub(crate) fn piece(id: usize) -> Node {
    Node::Piece { kind: id, turned: false }
}

/// Parts of these sizes side by side along `axis`, the rest of `whole` left over.
pub(crate) fn row(axis: Axis, whole: Length, parts: Vec<(Length, Node)>) -> Node {
    let used: Length = parts.iter().map(|part| part.0).sum();
    let rest = whole - used;
    let mut parts = parts;
    let mut node = if rest > Length::ZERO { Node::Leftover } else { parts.pop().expect("a row has parts").1 };
    for (at, first) in parts.into_iter().rev() {
        node = Node::Cut(Box::new(Split { axis, at, first, second: node }));
    }
    node
}

/// The pieces of a demand as the layout checks them.
pub(crate) fn kinds(demand: &Demand) -> Vec<Kind> {
    demand.pieces.iter().map(|p| Kind { width: p.width, height: p.height, turn: true }).collect()
}

/// Every piece of one label, in order of the demand.
pub(crate) fn labelled(demand: &Demand, label: &str) -> Vec<usize> {
    (0..demand.pieces.len()).filter(|&i| demand.piece(PieceId(i)).label == label).collect()
}

/// The Tidepool Quilt, small: six Urchin blocks from one 10-inch square each, a background from yardage, and four
/// Limpet blocks from a fat quarter whose print has an up. It fits.
pub(crate) fn tidepool() -> Quilt {
    let pattern = Pattern {
        name: "Tidepool Quilt".to_owned(),
        roles: ["A", "background", "C"]
            .map(|name| Role { name: name.to_owned(), ..Role::default() })
            .into_iter()
            .collect(),
        blocks: vec![
            Block {
                name: "Urchin".to_owned(),
                make: 6,
                pieces: vec![
                    line("A1", 0, 36, 36, 1, Matching::Block),
                    line("A2", 0, 20, 36, 2, Matching::Block),
                    line("B1", 1, 20, 20, 4, Matching::Quilt),
                ],
                ..Block::default()
            },
            Block {
                name: "Limpet".to_owned(),
                make: 4,
                pieces: vec![line("C1", 2, 36, 68, 2, Matching::Piece)],
                ..Block::default()
            },
            Block {
                name: "Border".to_owned(),
                make: 1,
                pieces: vec![line("D1", 1, 20, 484, 2, Matching::Quilt)],
                ..Block::default()
            },
        ],
        ..Pattern::default()
    };
    let demand = Demand::expand(&pattern, &Loosened::default());
    let mut stash = Stash::default();
    let names = ["urchin red", "anemone", "limpet grey", "driftwood", "kelp", "sea glass", "foam", "gull"];
    let colors = ["#b5523b", "#7a4b8f", "#8a8f94", "#a5825b", "#4c6b3c", "#7fc1b4", "#f4efe3", "#d9dde0"];
    for (index, name) in names.into_iter().enumerate() {
        stash.prints.push(Print { name: name.to_owned() });
        let row = u32::try_from(index + 1).expect("few rows");
        let mut held = match index {
            6 => lot(row, index, "yardage", e(336), e(648)),
            7 => Lot {
                allowance: e(2),
                directional: true,
                place: "shelf B2".to_owned(),
                ..lot(row, index, "fat quarter", e(168), e(144))
            },
            _ => lot(row, index, "10-inch square", e(80), e(80)),
        };
        held.color = Some(colors[index].to_owned());
        if index == 5 {
            held.count = 2;
        }
        stash.lots.push(held);
    }
    let sheets = sheets(&stash, &demand);
    let prints = demand.sets.iter().map(|set| {
        Some(match (pattern.roles[set.role.0].name.as_str(), set.block) {
            ("A", Some((_, copy))) => PrintId(usize::try_from(copy - 1).expect("few copies")),
            ("C", _) => PrintId(7),
            _ => PrintId(6),
        })
    });
    Quilt {
        outcome: Outcome {
            verdict: Verdict::Fits,
            reasons: Vec::new(),
            plan: Plan { prints: prints.collect(), sheets, short: Vec::new() },
            fabric: Fabric { opened: 100, bound: 100 },
            least_met: 100,
            preferences: PreferenceBounds::default(),
            conflicts: Vec::new(),
            upright: None,
            methods: None,
            alternatives: Vec::new(),
        },
        stash,
        demand,
        pattern,
        rules: Rules::default(),
        settings: Settings { revision: "0a1b2c3d".to_owned(), ..Settings::default() },
    }
}

fn sheets(stash: &Stash, demand: &Demand) -> Vec<SheetPlan> {
    let kinds = kinds(demand);
    let sheet = |lot: usize, root: Node| {
        let held = &stash.lots[lot];
        let layout = Layout::new(held.sheet_width(), held.sheet_length(), root, &kinds).expect("a layout");
        let used = match lot {
            6 => layout.pieces().iter().map(|(_, rect, _)| rect.y + rect.height).max().expect("pieces"),
            _ => layout.height(),
        };
        SheetPlan { lot: LotId(lot), copy: 1, layout, used, instead_of: None }
    };
    let (a1, a2) = (labelled(demand, "A1"), labelled(demand, "A2"));
    let mut sheets: Vec<SheetPlan> = (0..6)
        .map(|copy| {
            let large = row(Axis::Height, e(80), vec![(e(36), piece(a1[copy]))]);
            let pair = vec![(e(36), piece(a2[2 * copy])), (e(36), piece(a2[2 * copy + 1]))];
            let small = row(Axis::Height, e(80), pair);
            sheet(copy, row(Axis::Width, e(80), vec![(e(36), large), (e(20), small)]))
        })
        .collect();
    let (b1, d1) = (labelled(demand, "B1"), labelled(demand, "D1"));
    let border = |id: usize| (e(20), row(Axis::Height, e(648), vec![(e(484), piece(id))]));
    let strip =
        |ids: &[usize]| (e(20), row(Axis::Width, e(296), ids.iter().map(|&id| (e(20), piece(id))).collect()));
    let field = row(Axis::Height, e(648), vec![strip(&b1[..12]), strip(&b1[12..])]);
    sheets.push(sheet(6, row(Axis::Width, e(336), vec![border(d1[0]), border(d1[1]), (e(296), field)])));
    let c1 = labelled(demand, "C1");
    let tall =
        |ids: &[usize]| (e(68), row(Axis::Width, e(166), ids.iter().map(|&id| (e(36), piece(id))).collect()));
    sheets.push(sheet(7, row(Axis::Height, e(142), vec![tall(&c1[..4]), tall(&c1[4..])])));
    sheets
}

/// The same quilt one Urchin square short, with the alternative of making five Urchin blocks and the one of buying
/// a square; both plans made by hand.
pub(crate) fn one_square_short() -> Quilt {
    let mut quilt = tidepool();
    let whole = quilt.outcome.clone();
    let stash = quilt.stash.clone();
    quilt.stash.lots.remove(5);
    quilt.stash.prints.remove(5);
    for (row, lot) in (1..).zip(&mut quilt.stash.lots) {
        lot.row = Some(row);
        if lot.print.0 > 5 {
            lot.print.0 -= 1;
        }
    }
    // Its own plan: the sixth Urchin is short.
    let sixth =
        quilt.demand.sets.iter().position(|set| set.block == Some((BlockId(0), 6))).expect("six Urchins");
    let own = &mut quilt.outcome;
    own.verdict = Verdict::Impossible;
    own.reasons = vec![Reason {
        code: "matching",
        text: "6 squares are needed, the stash has 5".to_owned(),
        weighing: None,
        cases: Vec::new(),
    }];
    own.plan.sheets.remove(5);
    for sheet in &mut own.plan.sheets {
        if sheet.lot.0 > 5 {
            sheet.lot.0 -= 1;
        }
    }
    for print in own.plan.prints.iter_mut().flatten() {
        if print.0 > 5 {
            print.0 -= 1;
        }
    }
    own.plan.prints[sixth] = None;
    own.plan.short = vec![Short { set: SetId(sixth), reason: "no square is left".to_owned() }];
    // Buying the square: the stash of the whole quilt, its sixth lot bought.
    let mut bought = stash;
    bought.lots[5].row = None;
    bought.lots[5].count = 1;
    let buy = Change::Buy {
        print: PrintId(5),
        cut: Cut::find("10-inch square").expect("a cut of the trade"),
        width: e(80),
        length: e(80),
        count: 1,
        price: Some(Price(75)),
    };
    // Five Urchins: the demand without the sixth, so the later pieces and sets move up.
    let fewer = Loosened { makes: [(BlockId(0), 5)].into(), ..Loosened::default() };
    let five = Demand::expand(&quilt.pattern, &fewer);
    let mut plan = quilt.outcome.plan.clone();
    plan.short = Vec::new();
    plan.prints.remove(sixth);
    for sheet in &mut plan.sheets {
        sheet.layout = without_sixth(&quilt.demand, &five, sheet);
    }
    let fits = |plan: Plan| Outcome { verdict: Verdict::Fits, reasons: Vec::new(), plan, ..whole.clone() };
    quilt.outcome.alternatives = vec![
        Alternative {
            changes: vec![buy],
            price: Some(Price(75)),
            pattern: quilt.pattern.clone(),
            stash: bought,
            demand: quilt.demand.clone(),
            outcome: fits(whole.plan.clone()),
        },
        Alternative {
            changes: vec![Change::FewerCopies { block: BlockId(0), was: 6, make: 5 }],
            price: None,
            pattern: quilt.pattern.clone(),
            stash: quilt.stash.clone(),
            demand: five,
            outcome: fits(plan),
        },
    ];
    quilt
}

/// The layout with the pieces of the sixth Urchin left over and the others renamed.
fn without_sixth(all: &Demand, five: &Demand, sheet: &SheetPlan) -> Layout {
    fn renamed(node: &Node, name: &dyn Fn(usize) -> Option<usize>) -> Node {
        match node {
            Node::Leftover => Node::Leftover,
            Node::Piece { kind, turned } => {
                name(*kind).map_or(Node::Leftover, |kind| Node::Piece { kind, turned: *turned })
            }
            Node::Cut(split) => Node::Cut(Box::new(Split {
                axis: split.axis,
                at: split.at,
                first: renamed(&split.first, name),
                second: renamed(&split.second, name),
            })),
        }
    }
    let same = |index: usize| {
        let piece = &all.pieces[index];
        five.pieces.iter().position(|other| {
            (&other.label, other.block, other.copy, other.number)
                == (&piece.label, piece.block, piece.copy, piece.number)
        })
    };
    let root = renamed(sheet.layout.root(), &same);
    Layout::new(sheet.layout.width(), sheet.layout.height(), root, &kinds(five)).expect("a layout")
}
