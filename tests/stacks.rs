//! Sheets that can lie in one stack are cut alike, for no more fabric and no worse leftovers.

mod table;

use std::collections::BTreeSet;

use cutcloth::cutting::{self, Axis, Rect};
use cutcloth::length::Length;
use cutcloth::pattern::Matching;
use cutcloth::planning::{Measures, Outcome, SheetPlan, Verdict};
use table::{Table, e, fabric};

/// The example of benches/README.md: twelve squares, five of them of prints that have an up.
///
/// Weed blocks take four strips of 2 1/2 x 8 1/2 in, one print throughout each. Shells take four squares of
/// 4 1/2 in and an edging of 1 x 5 in, stones only the squares.
fn tide_mat() -> Table {
    let mut table = Table::default();
    table.pack("sand", 7, 1);
    for number in 0..5 {
        table.lot(&format!("dune grass {number}"), "10-inch square", 80, 80, 1).directional = true;
    }
    table.block("weed", 6, Matching::Block, &[(20, 68, 4)]);
    table.block("shell", 3, Matching::Block, &[(36, 36, 4), (8, 40, 1)]);
    table.block("stone", 3, Matching::Block, &[(36, 36, 4)]);
    table
}

fn measured(table: &Table, outcome: &Outcome) -> Measures {
    Measures::of(&outcome.plan, &table.stash, &table.rules)
}

#[test]
fn twelve_squares_are_cut_in_two_layouts_and_no_plan_has_fewer() {
    let table = tide_mat();
    let outcome = table.plan();
    assert_eq!(outcome.verdict, Verdict::Fits);
    assert_eq!(outcome.fabric.opened, fabric(80, 80, 12, 100));
    assert_eq!(outcome.fabric.bound, outcome.fabric.opened);
    let measures = measured(&table, &outcome);
    assert_eq!((measures.layouts, measures.stages, measures.off_ruler), (2, 2, 0));
    assert_eq!(measures.settings, 4);
    // Four strips and four squares of 4 1/2 in are more than a sheet.
    assert_eq!(outcome.preferences.layouts, Some(2));
    // What is left is narrower than a useful piece, and no plan leaves more.
    assert_eq!(measures.leftovers, 0);
}

#[test]
fn the_layouts_counted_are_those_of_the_cuts() {
    let table = tide_mat();
    let outcome = table.plan();
    let cuts: BTreeSet<Vec<(Rect, Axis, Length)>> = outcome
        .plan
        .sheets
        .iter()
        .map(|sheet| {
            let mut cuts: Vec<_> =
                cutting::steps(&sheet.layout).iter().map(|step| (step.region, step.axis, step.at)).collect();
            cuts.sort();
            cuts
        })
        .collect();
    assert_eq!(cuts.len(), measured(&table, &outcome).layouts);
}

#[test]
fn a_sheet_keeps_its_larger_leftover_rather_than_share_a_layout() {
    // Three strips leave 2 1/2 x 10 in and more, four only 1 1/2 x 10.
    let mut table = Table::default();
    table.pack("sand", 2, 1);
    table.block("weed", 1, Matching::Block, &[(20, 68, 4)]);
    table.block("reed", 1, Matching::Block, &[(20, 68, 3)]);
    let outcome = table.plan();
    let measures = measured(&table, &outcome);
    assert_eq!((outcome.verdict, measures.layouts, measures.useful), (Verdict::Fits, 2, 1));
    assert!(measures.leftovers <= outcome.preferences.leftovers.expect("it fits"));
}

#[test]
fn pieces_that_leave_nothing_leave_proved_nothing() {
    let mut table = Table::default();
    table.pack("sand", 3, 1);
    table.block("tile", 3, Matching::Block, &[(40, 40, 4)]);
    let outcome = table.plan();
    assert_eq!(outcome.preferences.leftovers, Some(0));
    assert_eq!((measured(&table, &outcome).layouts, outcome.preferences.layouts), (1, Some(1)));
}

#[test]
fn a_place_that_a_sheet_does_not_need_stays_as_it_is_cut() {
    let table = tide_mat();
    let outcome = table.plan();
    let demand = table.demand();
    let edgings = |sheet: &SheetPlan| {
        sheet.layout.pieces().iter().filter(|(index, _, _)| demand.pieces[*index].label == "shell1").count()
    };
    let squares = outcome.plan.sheets.iter().filter(|sheet| sheet.layout.pieces().len() < 6);
    let squares: Vec<&SheetPlan> =
        squares.filter(|sheet| demand.pieces[sheet.layout.pieces()[0].0].width == e(36)).collect();
    assert_eq!(squares.len(), 6);
    let is_place =
        |rect: &Rect| [(rect.width, rect.height), (rect.height, rect.width)].contains(&(e(8), e(40)));
    for sheet in squares.into_iter().filter(|sheet| edgings(sheet) == 0) {
        assert!(sheet.layout.leftovers().iter().any(is_place), "a stone has the shell's place too");
    }
}
