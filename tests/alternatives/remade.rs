//! The quilt in a smaller size the pattern comes in, and a unit made by a method it does not name.

use cutcloth::verifying::Rule;
use serde_json::Value;

use crate::jobs::run;

/// Twelve patches, or four in the smaller size; each takes a 10-inch square of its own.
const PATCHES: &str = "[quilt]\nname = \"Patches\"\n\n[role.A]\nname = \"patch\"\n\n[[block]]\nname = \"Patch\"\n\
                       make = 12\nfinished = \"9 in\"\nrows = [\"A\"]\n\n[[size]]\nname = \"lap\"\nmake = { Patch = 9 }\n\n\
                       [[size]]\nname = \"doll\"\nmake = { Patch = 4 }\n";

#[test]
fn the_largest_smaller_size_that_fits_is_offered() {
    let run = run(PATCHES, "print,cut,count\ncoral,10-inch square,10\n", "");
    assert_eq!(run.record["verdict"], "impossible");
    let offer = run.offer(&["size"]);
    assert_eq!(run.record["alternatives"][offer]["plan"]["rules"]["relaxed"][0]["size"], "lap");
    assert!(run.says(offer).contains("make the size lap"), "{}", run.says(offer));
    assert!(run.faults(|_| {}).is_empty());
    let relaxed = |size: &str| {
        let size = Value::from(size);
        run.faults(|record| record["alternatives"][offer]["plan"]["rules"]["relaxed"][0]["size"] = size)
    };
    // The plan of one size is none of another, and the size asked for is no change.
    assert!(relaxed("doll").contains(&Rule::PieceCount) || relaxed("doll").contains(&Rule::UnknownPiece));
    assert!(relaxed("main").contains(&Rule::Change));
    assert!(relaxed("king").contains(&Rule::Change));
}

/// A wall of three by three blocks of half-square triangles, or two by two; a place is decided that only the larger has.
const WALL: &str = "[quilt]\nname = \"Wall\"\n\n[role.A]\nname = \"sail\"\nfrom = [\"10-inch square\"]\nmatching = \"block\"\n\n[role.B]\nname = \"sky\"\n\
                    matching = \"quilt\"\n\n[[block]]\nname = \"Boat\"\nmake = 9\nfinished = \"16 in\"\n\
                    rows = [\"H H\", \"H H\"]\n\n[[block.unit]]\nname = \"H\"\nkind = \"half-square triangles\"\n\
                    roles = [\"A\", \"B\"]\nfinished = \"8 in\"\n\n[layout]\nset = \"straight\"\n\
                    across = 3\ndown = 3\n\n\
                    [[size]]\nname = \"small\"\nacross = 2\ndown = 2\n";

#[test]
fn a_smaller_size_is_laid_out_anew_and_keeps_the_places_it_has() {
    let mut stash = "print,cut,count,width,length\nevening sky,yardage,1,40,72\n".to_owned();
    for number in 1..6 {
        stash += &format!("sail {number},10-inch square,2,,\n");
    }
    let decided = "block,copy,role,print,row,column\nBoat,1,A,sail 3,2,2\nBoat,9,A,sail 1,3,3\n";
    let run = run(WALL, &stash, decided);
    assert_eq!(run.record["verdict"], "impossible");
    let offer = run.offer(&["size"]);
    let places = &run.record["alternatives"][offer]["plan"]["places"]["copies"];
    let places = places.as_array().expect("a list");
    assert_eq!(places.len(), 4);
    let first = places.iter().find(|placed| placed["copy"] == 1).expect("it is placed");
    assert_eq!((&first["row"], &first["column"]), (&2.into(), &2.into()));
    assert!(run.faults(|_| {}).is_empty());
}

/// Two half-square triangles of 3 in: cut as two squares of 3 7/8 in each they take two fabrics' squares of that size;
/// four at a time they need larger ones.
fn halves(method: &str) -> String {
    format!(
        "[quilt]\nname = \"Halves\"\n\n[role.A]\nname = \"sail\"\nmatching = \"block\"\n\n[role.B]\nname = \"sky\"\n\
         matching = \"block\"\n\n[[block]]\nname = \"Boat\"\nmake = 1\n\n[[block.unit]]\nname = \"H\"\n\
         kind = \"half-square triangles\"\nroles = [\"A\", \"B\"]\nfinished = \"3 in\"\ncount = 4\n\
         method = \"{method}\"\n"
    )
}

#[test]
fn a_unit_is_made_by_a_method_the_pattern_does_not_name() {
    // Four at a time take a square of 5 1/2 in of each print; two at a time two of 3 7/8 in, which come out of 4 x 8.
    let stash = "print,cut,count,width,length\nsail cloth,scrap,1,4,8\nevening sky,scrap,1,4,8\n";
    let run = run(&halves("four at a time"), stash, "");
    assert_eq!(run.record["verdict"], "impossible");
    let offer = run.offer(&["method"]);
    let plan = &run.record["alternatives"][offer]["plan"];
    assert_eq!(plan["rules"]["relaxed"][0]["method"], "two at a time");
    assert_eq!(plan["methods"]["units"][0]["method"], "two at a time");
    assert!(run.says(offer).contains("H of Boat two at a time"), "{}", run.says(offer));
    assert!(run.faults(|_| {}).is_empty());
    let broken =
        |change: fn(&mut Value)| run.faults(|record| change(&mut record["alternatives"][offer]["plan"]));
    let quiet = broken(|plan| plan["rules"]["relaxed"] = Value::Array(Vec::new()));
    assert!(quiet.contains(&Rule::Methods), "{quiet:?}");
    let unknown = broken(|plan| plan["rules"]["relaxed"][0]["method"] = "by magic".into());
    assert!(unknown.contains(&Rule::Change), "{unknown:?}");
    let unlisted = broken(|plan| plan["methods"]["units"] = Value::Array(Vec::new()));
    assert!(unlisted.contains(&Rule::Change), "{unlisted:?}");
}
