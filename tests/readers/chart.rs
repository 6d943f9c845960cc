//! Cutting charts: what the rows mean, and every mistake in one run.

use crate::{errors, inches, notes, warnings};
use cutcloth::diagnostic::Diagnostic;
use cutcloth::fabric::Cut;
use cutcloth::pattern::{Count, Matching, Pattern, Shape, read_chart};

fn read(text: &str) -> (Pattern, Vec<Diagnostic>) {
    read_chart("tide.csv", text.as_bytes())
}

#[test]
fn a_chart_gives_blocks_roles_and_pieces_in_its_order() {
    let text = "block,make,label,role,width,height,count,shape,matching\n\
                Star,2,A1,A,2 1/2,4 1/2,4,,block\n\
                Star,,B1,background,3 7/8,3 7/8,2,cut once,quilt\n\
                Rail,3,C1,a,2,6,1,,\n";
    let (pattern, diagnostics) = read(text);
    assert!(errors(&diagnostics).is_empty(), "{diagnostics:?}");
    assert_eq!(pattern.name, "tide");
    let roles: Vec<&str> = pattern.roles.iter().map(|role| role.name.as_str()).collect();
    assert_eq!(roles, ["A", "background"]);
    let blocks: Vec<(&str, u32, usize)> =
        pattern.blocks.iter().map(|block| (block.name.as_str(), block.make, block.pieces.len())).collect();
    assert_eq!(blocks, [("Star", 2, 2), ("Rail", 3, 1)]);
    let line = &pattern.blocks[0].pieces[1];
    assert_eq!((line.label.as_str(), line.role.0, line.line), ("B1", 1, 3));
    assert_eq!((line.width, line.height, line.count), (inches("3 7/8"), inches("3 7/8"), Count::PerCopy(2)));
    assert_eq!((line.shape, line.matching), (Shape::CutOnce, Matching::Quilt));
    assert_eq!(pattern.blocks[1].pieces[0].matching, Matching::Piece);
    assert_eq!(pattern.blocks[1].pieces[0].role.0, 0);
}

#[test]
fn a_chart_in_other_words_is_the_same_chart() {
    let plain = "block,make,label,role,width,height,count,shape,matching\n\
                 Star,2,A1,A,2 1/2,4 1/2,4,,block\nStar,,B1,B,3 7/8,3 7/8,2,cut twice,quilt\n";
    let other = "Fabric;Piece;Block;Blocks to make;Cut size;Per block;Same print;Then\n\
                 A;A1;Star;2;2½\" × 4½\";4;per block;\nB;B1;;;3 7/8\" sq;2;whole quilt;QST\n";
    let metric = "block,make,label,role,w (mm),h (mm),total,shape,matching\n\
                  Star,2,A1,A,63.5,114.3,8,,block\nStar,2,B1,B,98.425,98.425,4,cut twice,quilt\n";
    let expected = format!("{:?}", read(plain).0.blocks);
    for text in [other, metric] {
        let (pattern, diagnostics) = read(text);
        assert!(errors(&diagnostics).is_empty(), "{diagnostics:?}");
        assert_eq!(format!("{:?}", pattern.blocks), expected);
    }
    assert_eq!(notes(&read(other).1), [(3, "Block", "C116")]);
}

#[test]
fn sizes_to_cut_round_up() {
    let (pattern, diagnostics) = read("block,make,role,width,height,count\nS,1,A,2 1/3,2,1\n");
    assert_eq!(pattern.blocks[0].pieces[0].width.ticks(), 8128 * 7 / 3 + 1);
    assert_eq!(notes(&diagnostics), [(1, "", "C115"), (2, "width", "F202")]);
    assert!(diagnostics[1].message.contains("rounded up"));
}

#[test]
fn a_total_is_spread_over_the_copies() {
    let text = "block,make,label,role,size,count,total\nS,4,a,A,2 x 2,,8\nS,,b,A,2 x 3,,9\nS,,c,A,2 x 4,3,12\nS,,d,A,2 x 5,3,13\n";
    let (pattern, diagnostics) = read(text);
    let counts: Vec<Count> = pattern.blocks[0].pieces.iter().map(|line| line.count).collect();
    assert_eq!(counts, [Count::PerCopy(2), Count::Total(9), Count::PerCopy(3)]);
    assert_eq!(notes(&diagnostics), [(3, "total", "C113")]);
    assert_eq!(errors(&diagnostics), [(5, "total", "C104")]);
}

#[test]
fn a_role_is_taken_from_the_cuts_one_of_its_rows_names() {
    let text = "block,make,label,role,size,count,from\nS,1,a,A,2 x 2,1,\nS,,b,A,2 x 3,1,FQ / 10\" sq\n\
                S,,c,A,2 x 4,1,10-inch square; fat quarter\nS,,d,B,2 x 2,1,1/2 yd\nS,,e,C,2 x 2,1,any\n";
    let (pattern, diagnostics) = read(text);
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    let cut = |name| Cut::find(name).unwrap();
    assert_eq!(pattern.roles[0].from, [cut("10-inch square"), cut("fat quarter")]);
    assert_eq!(pattern.roles[1].from, [cut("half yard")]);
    assert!(pattern.roles[2].from.is_empty());
}

#[test]
fn labels_are_made_up_where_there_are_none() {
    let text = "block,make,label,role,size,count\nS,1,,A,2 x 2,1\nS,,A1,A,2 x 3,1\nS,,,A,2 x 4,1\nS,,,background,2 x 4,1\n\
                R,1,,A,2 x 2,1\n";
    let (pattern, diagnostics) = read(text);
    let labels: Vec<&str> = pattern.blocks[0].pieces.iter().map(|line| line.label.as_str()).collect();
    assert_eq!(labels, ["A2", "A1", "A3", "background 1"]);
    assert_eq!(pattern.blocks[1].pieces[0].label, "A1");
    assert_eq!(notes(&diagnostics), [(1, "", "C115")]);
}

#[test]
fn the_quilt_is_named_by_its_column() {
    let (pattern, _) = read("quilt,block,role,size,count\nTide,S,A,2 x 2,1\n,S,A,2 x 3,1\n");
    assert_eq!(pattern.name, "Tide");
    let (_, diagnostics) = read("quilt,block,role,size,count\nTide,S,A,2 x 2,1\nEbb,S,A,2 x 3,1\n");
    assert_eq!(errors(&diagnostics), [(3, "quilt", "C118")]);
}

#[test]
fn without_a_column_for_it_every_block_is_made_once_and_that_is_said() {
    let (pattern, diagnostics) = read("block,label,role,size,count\nS,a,A,2 x 2,1\n");
    assert_eq!(pattern.blocks[0].make, 1);
    assert_eq!(notes(&diagnostics), [(1, "", "C102")]);
}

#[test]
fn columns_a_chart_has_no_use_for_are_named() {
    let (_, diagnostics) = read("block,make,label,role,size,count,Remarks\nS,1,a,A,2 x 2,1,press open\n");
    assert_eq!(notes(&diagnostics), [(1, "", "F110")]);
}

#[test]
fn every_mistake_of_a_chart_is_reported_in_one_run() {
    let text = "\
block,make,label,role,width,height,count,shape,matching,from
,2,A1,A,2,2,1,,,
Star,2,A1,A,2 1/2,4 1/2,4,,block,
Star,3,A2,A,2 1/2,2 1/2,4,,blok,
Star,,A1,A,2 1/2,4,4,,block,
Star,,A3,,2,2,1,,,
Star,,A4,A,2,3,1,cut once,,
Star,,A5,A,2,2,1,hexagon,,
Star,,A6,A,,2,1,,,
Star,,A7,A,2,2,,,,
Star,,A8,A,2,101 yd,1.5,,,
Rail,,C1,C,2,2,1,,quilt,FQ
Rail,,C2,C,2,2,1,,piece,FQ / fat qarter
Rail,,C3,C,2,2,1,,quilt,10 in square
Sky,two,D1,D,2,2,1,,,
";
    let (_, diagnostics) = read(text);
    assert_eq!(
        errors(&diagnostics),
        [
            (2, "block", "C101"),
            (4, "matching", "C109"),
            (4, "make", "C103"),
            (5, "label", "C106"),
            (6, "role", "F208"),
            (7, "shape", "C107"),
            (8, "shape", "C108"),
            (9, "width", "F208"),
            (10, "count", "C105"),
            (11, "height", "C117"),
            (11, "count", "F204"),
            (12, "make", "C102"),
            (13, "from", "C110"),
            (14, "from", "C111"),
            (15, "make", "F204"),
        ]
    );
    assert_eq!(warnings(&diagnostics), [(13, "matching", "C112")]);
    let help = |code: &str| &diagnostics.iter().find(|d| d.code == code).unwrap().help;
    assert!(help("C110").contains("fat quarter"), "{}", help("C110"));
    assert_eq!(help("C109"), "write piece, block or quilt");
}

#[test]
fn more_pieces_than_anyone_cuts_are_refused() {
    let (_, diagnostics) = read("block,make,label,role,size,count\nS,9999,a,A,2 x 2,9999\n");
    assert_eq!(errors(&diagnostics), [(1, "", "C114")]);
}

#[test]
fn missing_columns_are_all_named() {
    let (_, diagnostics) = read("block,label\nS,a\n");
    assert_eq!(
        errors(&diagnostics),
        [(1, "role", "F109"), (1, "width", "F109"), (1, "height", "F109"), (1, "count", "F109")]
    );
}
