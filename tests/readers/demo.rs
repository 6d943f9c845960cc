//! The demo's files read cleanly and are what data/README.md says they are.

use crate::{errors, inches, notes, warnings};
use cutcloth::diagnostic::Diagnostic;
use cutcloth::fabric::Cut;
use cutcloth::length::{Area, Length};
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Pattern, Shape, read_chart};
use cutcloth::placements;
use cutcloth::stash::{self, PrintId, Stash};

fn file(name: &str) -> Vec<u8> {
    let path = format!("{}/data/tidepool/{name}", env!("CARGO_MANIFEST_DIR"));
    std::fs::read(&path).unwrap_or_else(|fault| panic!("{path}: {fault}"))
}

fn stash_of(name: &str) -> (Stash, Vec<Diagnostic>) {
    stash::read(name, &file(name), Length::ZERO)
}

fn chart() -> Pattern {
    let (pattern, diagnostics) = read_chart("chart.csv", &file("chart.csv"));
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    pattern
}

/// Squares of each print.
fn squares(stash: &Stash) -> Vec<u32> {
    let square = Cut::find("10-inch square").unwrap();
    let of_print =
        |print| stash.lots.iter().filter(move |lot| lot.print == PrintId(print) && lot.cut == square);
    let counts = (0..stash.prints.len()).map(|print| of_print(print).map(|lot| lot.count).sum());
    counts.filter(|&count| count > 0).collect()
}

#[test]
fn the_packs_hold_what_the_readme_says() {
    for (name, prints, doubles) in [("pack.csv", 32, 10), ("other-pack.csv", 38, 4)] {
        let (stash, diagnostics) = stash_of(name);
        assert!(diagnostics.is_empty(), "{diagnostics:?}");
        let squares = squares(&stash);
        assert_eq!(squares.iter().sum::<u32>(), 42, "{name}");
        assert_eq!(
            (squares.len(), squares.iter().filter(|&&count| count == 2).count()),
            (prints, doubles),
            "{name}"
        );
        assert!(
            stash
                .lots
                .iter()
                .all(|lot| lot.color.as_ref().is_some_and(|c| c.starts_with('#')) && lot.value.is_some())
        );
    }
    let (other, _) = stash_of("other-pack.csv");
    let kept: Vec<&str> =
        other.lots.iter().filter(|lot| lot.keep).map(|lot| lot.cut.entry().name.as_str()).collect();
    assert_eq!(kept, ["fat quarter"]);
    assert!(other.lots.iter().all(|lot| lot.price.is_some()));
}

#[test]
fn the_chart_asks_for_what_the_readme_says() {
    let pattern = chart();
    assert_eq!(pattern.name, "Tidepool Quilt");
    let makes: Vec<(&str, u32)> =
        pattern.blocks.iter().map(|block| (block.name.as_str(), block.make)).collect();
    assert_eq!(makes, [("Urchin", 6), ("Limpet", 8), ("Anemone", 7), ("Driftwood", 4), ("Border", 1)]);
    let demand = Demand::expand(&pattern, &Loosened::default());
    let area_of = |roles: &[&str]| -> Area {
        let named = |piece: &&cutcloth::pattern::demand::Piece| {
            roles.contains(&pattern.roles[piece.role.0].name.as_str())
        };
        demand.pieces.iter().filter(named).map(|piece| piece.area()).sum()
    };
    let square = inches("10").by(inches("10"));
    // One Urchin's pieces of one print are more than one square and less than two.
    let urchin = area_of(&["urchin"]);
    assert!(urchin > square.checked_mul(6).unwrap() && urchin < square.checked_mul(12).unwrap());
    let pack = area_of(&["urchin", "limpet inner", "limpet outer", "anemone", "plank"]);
    let percent = 100 * pack.square_ticks() / square.checked_mul(42).unwrap().square_ticks();
    assert_eq!(percent, 76);
}

/// Finished area of a piece: half an inch off each side, or what a square cut corner to corner becomes.
fn finished(width: Length, height: Length, shape: Shape) -> Area {
    match shape {
        Shape::Rectangle => (width - inches("1/2")).by(height - inches("1/2")),
        Shape::CutOnce => (width - inches("7/8")).by(height - inches("7/8")),
        Shape::CutTwice => (width - inches("1 1/4")).by(height - inches("1 1/4")),
    }
}

#[test]
fn the_pieces_of_every_block_make_the_block() {
    let pattern = chart();
    for block in &pattern.blocks[..4] {
        let pieces = block.pieces.iter().map(|line| {
            let cutcloth::pattern::Count::PerCopy(each) = line.count else { panic!("counts are per copy") };
            finished(line.width, line.height, line.shape).checked_mul(each.into()).unwrap()
        });
        assert_eq!(pieces.sum::<Area>(), inches("12").by(inches("12")), "{}", block.name);
    }
    let border: Area = pattern.blocks[4].pieces[..2]
        .iter()
        .map(|line| finished(line.width, line.height, line.shape).checked_mul(2).unwrap())
        .sum();
    assert_eq!(border, inches("68").by(inches("68")) - inches("60").by(inches("60")));
}

#[test]
fn the_placements_fit_the_pack_and_the_chart() {
    let (stash, _) = stash_of("pack.csv");
    let pattern = chart();
    let demand = Demand::expand(&pattern, &Loosened::default());
    let (decided, diagnostics) = placements::read("placements.csv", &file("placements.csv"));
    assert!(diagnostics.is_empty());
    let (pins, diagnostics) = placements::pins(&decided, &stash, &pattern, &demand);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    assert_eq!(pins.iter().flatten().count(), 6);
}

#[test]
fn the_messy_shelf_is_read_whole_with_a_word_about_each_oddity() {
    let (stash, diagnostics) = stash_of("shelf.csv");
    assert!(errors(&diagnostics).is_empty(), "{diagnostics:?}");
    assert_eq!(stash.lots.len(), 58);
    assert_eq!(stash.other_columns, ["Maker", "Washed"]);
    assert_eq!(
        notes(&diagnostics),
        [
            (1, "", "F112"),
            (0, "", "F108"),
            (6, "", "F102"),
            (8, "Fabric name", "S110"),
            (14, "Comes as", "S113"),
            (17, "Across", "S114"),
            (25, "Comes as", "S113"),
            (56, "Along", "F202"),
        ]
    );
    assert_eq!(warnings(&diagnostics), [(61, "Across", "S107")]);
    let named = |name: &str| {
        let print = stash.prints.iter().position(|print| print.name == name).unwrap();
        stash.lots.iter().find(|lot| lot.print == PrintId(print)).unwrap()
    };
    assert_eq!(named("Heron grey").width, inches("20 1/2"));
    assert_eq!(named("rock pool ripple").note, "cut a little short\r\nat the shop");
    assert_eq!(named("thrift pink").other[0], "Café Textile");
    assert_eq!(named("deep water").length, inches("150 cm"));
    assert_eq!(named("sea mist").length, inches("81"));
}
