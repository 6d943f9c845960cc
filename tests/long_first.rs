//! Long pieces first: no cutting order ever cuts into the length that they need.
//!
//! Whatever is cut off a part that still holds long pieces holds some itself. A layout by itself guarantees that its
//! pieces come out in any order; this order guarantees that nothing short is cut while a long piece waits beside it.

use cutcloth::app::Stop;
use cutcloth::app::given::Given;
use cutcloth::app::need::{Asked, Requirement};
use cutcloth::app::options::Options;
use cutcloth::app::run::{Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::cutting::{self, Axis, Kind, Layout, Node, Rect, Split, steps, tidy};
use cutcloth::length::Length;
use cutcloth::need::{Assumptions, Spare};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

fn eighths(count: i64) -> Length {
    Length::from_eighths(count)
}

fn inside(piece: &Rect, region: &Rect) -> bool {
    piece.x >= region.x
        && piece.y >= region.y
        && piece.x + piece.width <= region.x + region.width
        && piece.y + piece.height <= region.y + region.height
}

/// Checks the cuts (region, part cut off) in their order; how many of them were made with a long piece waiting.
fn order(cuts: &[(Rect, Rect)], pieces: &[Rect], across: Length) -> Result<usize, String> {
    let long: Vec<&Rect> = pieces.iter().filter(|piece| piece.width.max(piece.height) > across).collect();
    let mut waiting = 0;
    for (region, off) in cuts {
        if long.iter().any(|piece| inside(piece, region)) {
            waiting += 1;
            if !long.iter().any(|piece| inside(piece, off)) {
                return Err(format!("{off:?} is cut off {region:?} while a long piece waits in it"));
            }
        }
    }
    Ok(waiting)
}

/// As [`order`], for the steps of a layout.
fn order_of(layout: &Layout) -> Result<usize, String> {
    let pieces: Vec<Rect> = layout.pieces().into_iter().map(|(_, rect, _)| rect).collect();
    let cuts: Vec<(Rect, Rect)> = steps(layout).into_iter().map(|step| (step.region, step.off.0)).collect();
    order(&cuts, &pieces, layout.width())
}

/// 72 x 40 in: four borders of 3 1/2 x 60 1/2 in along it, and squares that would come out of six strips of 2 1/2 in.
/// The strips cut first would leave 57 in, and no border in one piece.
const FRAMED: &str = "block,make,label,role,width,height,count,matching\n\
    quilt,1,border,ground,3 1/2,60 1/2,4,quilt\nquilt,1,square,ground,2 1/2,2 1/2,90,quilt\n";

fn given(name: &str, text: &str) -> Given {
    Given { name: name.to_owned(), bytes: text.as_bytes().to_vec() }
}

#[test]
fn borders_along_the_fabric_are_cut_before_strips_across_it() {
    let request = Request {
        pattern: given("framed.csv", FRAMED),
        stash: given("stash.csv", "print,cut,width,length,count\nmist,yardage,40,72,1\n"),
        placements: None,
        options: Options::default(),
    };
    let answer = plan(&request, &Stop::never(), &mut |_| {}).expect("a plan");
    assert_eq!(answer.summary.verdict, Verdict::Fits, "{}", answer.summary.proof);
    let (_, record) = answer.files.iter().find(|(name, _)| name == "plan.json").expect("a record");
    let record: serde_json::Value = serde_json::from_slice(record).expect("JSON");
    let sheet = &record["sheets"][0];
    let rect = |value: &serde_json::Value| {
        let side = |name: &str| Length::from_ticks(value[name].as_i64().expect("ticks"));
        Rect { x: side("x"), y: side("y"), width: side("width"), height: side("height") }
    };
    let pieces: Vec<Rect> = sheet["pieces"].as_array().expect("pieces").iter().map(rect).collect();
    assert_eq!(pieces.len(), 94);
    let mut cuts: Vec<(i64, Rect, Rect)> = Vec::new();
    for cut in sheet["cuts"].as_array().expect("cuts") {
        let region = rect(cut);
        let axis = if cut["across"] == "width" { Axis::Width } else { Axis::Height };
        let at = Length::from_ticks(cut["at"].as_i64().expect("ticks"));
        cuts.push((cut["order"].as_i64().expect("a number"), region, region.split(axis, at).0));
    }
    assert!(cuts.is_sorted_by_key(|cut| cut.0));
    let cuts: Vec<(Rect, Rect)> = cuts.into_iter().map(|(_, region, off)| (region, off)).collect();
    assert_eq!(
        order(&cuts, &pieces, eighths(320)).map(|waiting| waiting >= 4),
        Ok(true),
        "four borders are cut off"
    );
}

#[test]
fn the_least_length_of_such_a_fabric_is_cut_in_that_order() {
    let how = Assumptions {
        spare: Spare { squaring: Length::ZERO, ..Spare::default() },
        work: 3_000_000,
        ..Assumptions::default()
    };
    let (pattern, problems) = cutcloth::pattern::read_chart("framed.csv", FRAMED.as_bytes());
    assert!(problems.is_empty(), "{problems:?}");
    let answer = cutcloth::need::need(&pattern, &how).expect("it can be worked out");
    let at = &answer.roles[0].at;
    assert!(at.strips.bands[0].lengthwise, "the strips begin with the borders");
    let layout = at.layout.as_ref().expect("squares beside the borders are shorter than strips");
    assert!(at.by_least.exact < eighths(8 * 72));
    assert_eq!(order_of(layout).map(|waiting| waiting >= 4), Ok(true));
    let file = given("framed.csv", FRAMED);
    let asked = Asked { pattern: &file, size: None, how: &how, owned: None };
    assert!(Requirement::of(&asked).is_ok());
}

/// A tree of cuts of a part, each piece exactly its leaf.
fn grown(random: &mut SmallRng, rect: Rect, depth: u32, kinds: &mut Vec<Kind>) -> Node {
    let axis = if random.random_bool(0.5) { Axis::Width } else { Axis::Height };
    let side = if axis == Axis::Width { rect.width } else { rect.height };
    let most = side.ticks() / eighths(8).ticks();
    if depth == 0 || most < 4 || random.random_bool(0.2) {
        if random.random_bool(0.25) {
            return Node::Leftover;
        }
        kinds.push(Kind { width: rect.width, height: rect.height, turn: false });
        return Node::Piece { kind: kinds.len() - 1, turned: false };
    }
    let at = eighths(8 * random.random_range(1..most));
    let (first, second) = rect.split(axis, at);
    let first = grown(random, first, depth - 1, kinds);
    let second = grown(random, second, depth - 1, kinds);
    Node::Cut(Box::new(Split { axis, at, first, second }))
}

#[test]
fn every_layout_has_an_order_with_its_long_pieces_first() {
    let mut random = SmallRng::seed_from_u64(510);
    let (mut waiting, mut before) = (0, 0);
    for _ in 0..3_000 {
        let (width, height) =
            (eighths(8 * random.random_range(20..45)), eighths(8 * random.random_range(40..120)));
        let whole = Rect { x: Length::ZERO, y: Length::ZERO, width, height };
        let mut kinds = Vec::new();
        let root = grown(&mut random, whole, 5, &mut kinds);
        let layout = Layout::new(width, height, root, &kinds).expect("a layout");
        let tidied = tidy(&layout);
        assert_eq!(tidied.pieces().len(), layout.pieces().len());
        waiting += order_of(&tidied).unwrap_or_else(|wrong| panic!("{wrong}"));
        before += usize::from(order_of(&layout).is_err());
    }
    // The layouts as grown are often in a bad order: the test can tell.
    assert!(waiting > 1_000, "{waiting} cuts were made beside long pieces");
    assert!(before > 100, "{before} layouts were in another order before");
}

#[test]
fn least_lengths_of_mixed_orders_keep_their_long_pieces_first() {
    let mut random = SmallRng::seed_from_u64(72);
    let mut waiting = 0;
    for _ in 0..25 {
        let mut kinds = vec![Kind {
            width: eighths(8 * random.random_range(2..8)),
            height: eighths(8 * random.random_range(41..75)),
            turn: true,
        }];
        for _ in 0..3 {
            let side = |random: &mut SmallRng| eighths(4 * random.random_range(3..20));
            kinds.push(Kind { width: side(&mut random), height: side(&mut random), turn: true });
        }
        let counts: Vec<u32> = kinds.iter().map(|_| random.random_range(1..6)).collect();
        let mut work = cutting::Work::steps(1_000_000);
        let least = cutting::shortest(eighths(320), eighths(8 * 400), &kinds, &counts, &mut work);
        let (layout, _) = least.found.expect("four hundred inches are enough");
        // The first cut only takes off what is used.
        let pieces: Vec<Rect> = layout.pieces().into_iter().map(|(_, rect, _)| rect).collect();
        let all = steps(&layout);
        let cuts: Vec<(Rect, Rect)> = all.into_iter().map(|step| (step.region, step.off.0)).collect();
        waiting += order(&cuts, &pieces, eighths(320)).unwrap_or_else(|wrong| panic!("{wrong}"));
    }
    assert!(waiting > 50, "{waiting} cuts were made beside long pieces");
}
