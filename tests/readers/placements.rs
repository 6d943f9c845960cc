//! Placements: what the quilter decided becomes the print of each set, and contradictions are named.

use crate::{errors, notes, warnings};
use cutcloth::diagnostic::Diagnostic;
use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{BlockId, Pattern, read_chart};
use cutcloth::placements;
use cutcloth::stash::{self, Stash};

const CHART: &str = "\
block,make,label,role,size,count,matching,from
Urchin,2,A1,A,4 x 4,2,block,
Urchin,,B1,background,2 x 4,1,quilt,yardage
Rail,2,D1,plank,2 x 6,3,piece,
Rail,,B2,background,2 x 2,1,quilt,
";
const STASH: &str = "\
print,cut,length,keep
teal dot,10-inch square,,
rust leaf,fat quarter,,
cream,yardage,1 yd,
moss,fat quarter,,yes
";

struct Table {
    stash: Stash,
    pattern: Pattern,
    demand: Demand,
}

fn table(changes: &Loosened) -> Table {
    let (stash, no_fault) = stash::read("stash.csv", STASH.as_bytes(), Length::ZERO);
    assert!(no_fault.is_empty());
    let (pattern, no_fault) = read_chart("chart.csv", CHART.as_bytes());
    assert!(no_fault.is_empty(), "{no_fault:?}");
    let demand = Demand::expand(&pattern, changes);
    Table { stash, pattern, demand }
}

/// The print of each set by name, and what was said.
fn decided(rows: &str) -> (Vec<Option<String>>, Vec<Diagnostic>) {
    let table = table(&Loosened::default());
    let (placements, mut diagnostics) = placements::read("placements.csv", rows.as_bytes());
    let (pins, more) = placements::pins(&placements, &table.stash, &table.pattern, &table.demand);
    diagnostics.extend(more);
    let name = |print| table.stash.print(print).name.clone();
    (pins.into_iter().map(|pin| pin.map(name)).collect(), diagnostics)
}

/// How many sets each print got.
fn counts(pins: &[Option<String>]) -> Vec<(&str, usize)> {
    let mut names: Vec<&str> = pins.iter().flatten().map(String::as_str).collect();
    names.sort_unstable();
    names.dedup();
    let count = |name| pins.iter().flatten().filter(|pin| pin.as_str() == name).count();
    names.into_iter().map(|name| (name, count(name))).collect()
}

#[test]
fn a_row_names_what_it_does_not_exclude() {
    // The demand: two Urchin sets of A, one background set, six single planks.
    let of = |row: &str| {
        let (pins, diagnostics) = decided(&format!("block,copy,role,print,label,piece\n{row}\n"));
        assert!(errors(&diagnostics).is_empty(), "{diagnostics:?}");
        assert_eq!(pins.len(), 9);
        pins.iter().flatten().count()
    };
    assert_eq!(of("Urchin,1,A,teal dot,,"), 1);
    assert_eq!(of("urchin,,a,Teal Dot,,"), 2);
    assert_eq!(of(",,background,cream,,"), 1);
    assert_eq!(of("Rail,2,background,cream,,"), 1);
    assert_eq!(of("Rail,1,plank,rust leaf,,"), 3);
    assert_eq!(of("Rail,1,plank,rust leaf,D1,2"), 1);
    assert_eq!(of("Rail,,plank,rust leaf,D1,2"), 2);
    assert_eq!(of(",,plank,rust leaf,,"), 6);
}

#[test]
fn what_is_decided_is_kept_and_the_rest_left_open() {
    let (pins, diagnostics) = decided(
        "block,copy,role,print\nUrchin,2,A,rust leaf\n,,background,cream\nUrchin,1,A,\nRail,2,plank,teal dot\n",
    );
    assert_eq!(counts(&pins), [("cream", 1), ("rust leaf", 1), ("teal dot", 3)]);
    assert_eq!(notes(&diagnostics), [(0, "", "P111")]);
    assert!(errors(&diagnostics).is_empty());
}

#[test]
fn every_contradiction_is_named_in_one_run() {
    let (_, diagnostics) = decided(
        "block,copy,role,print,label,piece\n\
         Urchin,1,A,teal dot,,\n\
         Urchin,1,A,rust leaf,,\n\
         Urchn,1,A,teal dot,,\n\
         Urchin,3,A,teal dot,,\n\
         Urchin,1,plank,teal dot,,\n\
         ,,sky,teal dot,,\n\
         Urchin,2,A,teel dot,,\n\
         ,,background,teal dot,,\n\
         Rail,1,plank,moss,,\n\
         Rail,2,plank,teal dot,D9,\n\
         Rail,2,plank,teal dot,D1,4\n\
         ,2,plank,teal dot,,\n\
         Rail,2,plank,teal dot,,1\n",
    );
    assert_eq!(
        errors(&diagnostics),
        [
            (13, "block", "P110"),
            (14, "label", "P110"),
            (3, "print", "P107"),
            (4, "block", "P101"),
            (6, "role", "P103"),
            (8, "print", "P104"),
            (9, "print", "P109"),
            (11, "label", "P105"),
            (12, "piece", "P106"),
        ]
    );
    assert_eq!(
        warnings(&diagnostics),
        [(10, "print", "P108"), (5, "copy", "P102"), (7, "role", "P103")],
        "what no row can mean is left out"
    );
    let help = |code: &str| &diagnostics.iter().find(|d| d.code == code).unwrap().help;
    assert_eq!(help("P101"), "did you mean \"Urchin\"?");
    assert_eq!(help("P104"), "did you mean \"teal dot\"?");
    assert_eq!(help("P103"), "write \"A\" or \"background\"");
}

#[test]
fn the_role_everywhere_and_one_set_of_it_otherwise_is_a_contradiction() {
    let (_, diagnostics) = decided("block,copy,role,print\n,,plank,teal dot\nRail,1,plank,rust leaf\n");
    assert_eq!(errors(&diagnostics), [(3, "print", "P107")]);
    assert!(diagnostics[0].message.contains("line 2"));
}

#[test]
fn decisions_about_copies_an_alternative_leaves_out_are_no_fault() {
    let fewer = Loosened { makes: [(BlockId(0), 1)].into(), ..Loosened::default() };
    let table = table(&fewer);
    let (placements, _) = placements::read("p.csv", b"block,copy,role,print\nUrchin,2,A,teal dot\n");
    let (pins, diagnostics) = placements::pins(&placements, &table.stash, &table.pattern, &table.demand);
    assert!(diagnostics.is_empty());
    assert_eq!(pins.len(), table.demand.sets.len());
    assert!(pins.iter().all(Option::is_none));
}

#[test]
fn nothing_decided_pins_nothing() {
    let table = table(&Loosened::default());
    let none = placements::Placements::default();
    let (pins, diagnostics) = placements::pins(&none, &table.stash, &table.pattern, &table.demand);
    assert!(diagnostics.is_empty() && pins.iter().all(Option::is_none) && pins.len() == 9);
}

#[test]
fn a_row_that_means_no_piece_is_told_where_it_stands() {
    // Two planks over three copies: the last has none. Of the two pieces D1 in a copy one is a plank, the second a rail.
    let chart = "block,make,label,role,size,count,total,matching\n\
                 Fence,3,P1,plank,2 x 6,,2,piece\n\
                 Fence,,D1,plank,2 x 2,,3,piece\n\
                 Fence,,D1,rail,2 x 2,1,,piece\n\
                 Gate,2,G1,post,2 x 2,,1,piece\n";
    let (pattern, _) = read_chart("chart.csv", chart.as_bytes());
    let (stash, _) = stash::read("stash.csv", STASH.as_bytes(), Length::ZERO);
    let demand = Demand::expand(&pattern, &Loosened::default());
    let rows = "block,copy,role,print,label,piece\n\
                Gate,1,post,teal dot,,\n\
                Gate,2,post,teal dot,,\n\
                Fence,3,plank,teal dot,P1,\n\
                Fence,3,plank,teal dot,,\n\
                Fence,1,rail,teal dot,D1,1\n\
                ,,rail,rust leaf,D1,2\n";
    let (placements, _) = placements::read("placements.csv", rows.as_bytes());
    let (_, said) = placements::pins(&placements, &stash, &pattern, &demand);
    assert_eq!(errors(&said), [(3, "copy", "P106"), (4, "copy", "P106"), (6, "piece", "P106")]);
    let messages: Vec<&str> = said.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(
        messages,
        [
            "copy 2 of \"Gate\" has no piece of role \"post\"",
            "copy 3 of \"Fence\" has no piece labelled \"P1\" of role \"plank\"",
            "copy 1 of \"Fence\" has no piece labelled \"D1\" number 1 of role \"rail\"",
        ]
    );
}

#[test]
fn rows_left_over_from_an_earlier_pattern_are_named_and_left_out() {
    let rows = "block,copy,role,print\n\
                Urchin,1,A,rust leaf\n\
                Urchin,5,A,teal dot\n\
                Whelk,1,A,a print that is used up\n\
                ,,sky,teal dot\n";
    let (pins, said) = decided(rows);
    assert!(errors(&said).is_empty(), "{said:?}");
    assert_eq!(warnings(&said), [(3, "copy", "P102"), (4, "block", "P101"), (5, "role", "P103")]);
    assert_eq!(
        said[0].to_string(),
        "placements.csv, line 3, field \"copy\": warning: copy 5 of \"Urchin\" does not exist; the pattern makes 2; the row \
         was left out\n  help: remove the row if it is of an earlier pattern, or correct it  [P102]"
    );
    assert_eq!(counts(&pins), [("rust leaf", 1)]);
}

#[test]
fn placements_of_which_no_row_fits_are_of_another_pattern() {
    let (_, said) = decided("block,copy,role,print\nWhelk,1,shell,teal dot\nUrchin,7,A,teal dot\n");
    assert_eq!(errors(&said), [(2, "block", "P101"), (3, "copy", "P102")]);
    // A slip of the pen is never passed over, whatever the other rows say.
    let (_, said) =
        decided("block,copy,role,print\nUrchin,1,A,teal dot\nUrchn,2,A,rust leaf\n,,bakground,cream\n");
    assert_eq!(errors(&said), [(3, "block", "P101"), (4, "role", "P103")]);
}
