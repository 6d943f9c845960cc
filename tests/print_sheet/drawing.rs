//! The drawings: to scale, every piece named, no type too small to read.

use cutcloth::cutting::{Axis, Layout};
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Matching, Shape};
use cutcloth::planning::SheetPlan;
use cutcloth::stash::{LotId, PrintId};

use crate::tidepool::{Quilt, e, kinds, line, lot, piece, row, tidepool};

/// The drawings of a sheet.
fn drawings(quilt: &Quilt) -> Vec<String> {
    let sheet = quilt.file("sheet.html");
    let drawings = sheet.split("<svg").skip(1);
    drawings.map(|rest| rest.split("</svg>").next().expect("closed").to_owned()).collect()
}

/// The values of one attribute.
fn values(drawing: &str, name: &str) -> Vec<f64> {
    let key = format!(" {name}=\"");
    let found = drawing.split(key.as_str()).skip(1);
    found.filter_map(|rest| rest.split('"').next()?.parse().ok()).collect()
}

/// Forty-two squares of 1 in from one strip of 1 in: far too small for a label each.
fn crumbs() -> Quilt {
    let mut quilt = tidepool();
    quilt.pattern.blocks.truncate(1);
    quilt.pattern.blocks[0].make = 1;
    quilt.pattern.blocks[0].pieces = vec![line("periwinkle 12", 0, 2, 2, 20, Matching::Block)];
    quilt.demand = Demand::expand(&quilt.pattern, &Loosened::default());
    quilt.stash.lots = vec![lot(1, 0, "scrap", e(80), e(80))];
    let small = (0..20).map(|id| (e(2), piece(id))).collect();
    let root = row(Axis::Height, e(80), vec![(e(2), row(Axis::Width, e(80), small))]);
    let layout = Layout::new(e(80), e(80), root, &kinds(&quilt.demand)).expect("a layout");
    quilt.outcome.plan.sheets =
        vec![SheetPlan { lot: LotId(0), copy: 1, layout, used: e(80), instead_of: None }];
    quilt.outcome.plan.prints = vec![Some(PrintId(0))];
    quilt
}

#[test]
fn every_piece_is_named_in_its_drawing() {
    let drawings = drawings(&tidepool());
    assert_eq!(drawings[0].matches(">B1</text>").count(), 24);
    assert_eq!(drawings[0].matches(">D1</text>").count(), 2);
    assert_eq!(drawings[1].matches(">C1</text>").count(), 8);
    assert_eq!(drawings[2].matches(">A2</text>").count(), 2);
}

#[test]
fn pieces_too_small_for_a_label_are_named_together() {
    let drawings = drawings(&crumbs());
    assert!(drawings[0].contains(">20 periwinkle 12</text>"), "{}", drawings[0]);
}

#[test]
fn no_type_is_smaller_than_six_points() {
    for quilt in [tidepool(), crumbs()] {
        for drawing in drawings(&quilt) {
            // Pixels of 1/96 in: eight are six points. The number of a cut over 99 may be a point smaller.
            let sizes = values(&drawing, "font-size");
            assert!(!sizes.is_empty());
            assert!(sizes.iter().all(|&size| size >= 8.0), "{sizes:?}");
        }
    }
}

#[test]
fn areas_are_drawn_to_scale_and_fill_the_sheet() {
    let drawing = drawings(&tidepool()).remove(2);
    let body = drawing.split("</defs>").nth(1).expect("areas after the hatch");
    let (widths, heights) = (values(body, "width"), values(body, "height"));
    // A1 is 4 1/2 x 4 1/2 in, the leftover beside it 3 x 10 in, on a square of 10 in.
    let scale = widths[0] / 4.5;
    assert!((heights[0] / 4.5 - scale).abs() < 0.01);
    let area: f64 = widths.iter().zip(&heights).map(|(width, height)| width * height).sum();
    assert!((area / (scale * scale) - 100.0).abs() < 0.1, "{area}");
}

#[test]
fn leftovers_are_hatched_and_pieces_are_not() {
    let drawing = drawings(&tidepool()).remove(2);
    assert_eq!(drawing.matches("fill=\"url(#card-3-drawing-hatch)\"").count(), 3);
    assert!(drawing.contains("id=\"card-3-drawing-hatch\""));
}

#[test]
fn cut_numbers_in_the_drawing_are_those_of_the_steps() {
    let drawing = drawings(&tidepool()).remove(2);
    let numbers = drawing.split("class=\"number\"").nth(1).expect("numbers");
    for number in 1..=5 {
        assert!(numbers.contains(&format!(">{number}</text>")), "cut {number}");
    }
}

#[test]
fn triangles_are_told_at_the_square_they_are_cut_from() {
    let mut quilt = tidepool();
    quilt.pattern.blocks[0].pieces[0].shape = Shape::CutOnce;
    for piece in &mut quilt.demand.pieces {
        if piece.label == "A1" {
            piece.shape = Shape::CutOnce;
        }
    }
    assert!(quilt.file("sheet.html").contains("then cut once corner to corner: 2 triangles"));
}

#[test]
fn fabric_smaller_than_its_cut_usually_is_is_marked() {
    let mut quilt = tidepool();
    for lot in &mut quilt.stash.lots[..6] {
        lot.width = e(79);
    }
    let kinds = kinds(&quilt.demand);
    for sheet in &mut quilt.outcome.plan.sheets[..6] {
        let pieces: Vec<usize> = sheet.layout.pieces().into_iter().map(|(index, _, _)| index).collect();
        let large = row(Axis::Height, e(80), vec![(e(36), piece(pieces[0]))]);
        let small = row(Axis::Height, e(80), vec![(e(36), piece(pieces[1])), (e(36), piece(pieces[2]))]);
        let root = row(Axis::Width, e(79), vec![(e(36), large), (e(20), small)]);
        sheet.layout = Layout::new(e(79), e(80), root, &kinds).expect("a layout");
    }
    let sheet = quilt.file("sheet.html");
    assert!(
        sheet.contains(
            "Narrow: less than the usual 10-inch square of 10 x 10 in. Keep it apart from full ones."
        )
    );
    assert!(sheet.contains("Lay it with 9 7/8 in from left to right and 10 in going away from you."));
}
