//! Stash files: what the rows mean, and every mistake in one run.

use crate::{errors, inches, notes, warnings};
use cutcloth::diagnostic::Diagnostic;
use cutcloth::fabric::{Price, Value};
use cutcloth::length::Length;
use cutcloth::stash::{self, Lot, Stash};

fn read(text: &str) -> (Stash, Vec<Diagnostic>) {
    stash::read("stash.csv", text.as_bytes(), Length::ZERO)
}

fn one_lot(text: &str) -> Lot {
    let (stash, diagnostics) = read(text);
    assert!(errors(&diagnostics).is_empty(), "{diagnostics:?}");
    assert_eq!(stash.lots.len(), 1);
    stash.lots[0].clone()
}

#[test]
fn a_plain_row_takes_its_defaults() {
    let lot = one_lot("print,cut\nteal dot,FQ\n");
    assert_eq!((lot.count, lot.directional, lot.keep, lot.allowance), (1, false, false, Length::ZERO));
    assert_eq!((lot.width, lot.length), (inches("21"), inches("18")));
    assert_eq!(
        (lot.color, lot.value, lot.price, lot.place.as_str(), lot.note.as_str()),
        (None, None, None, "", "")
    );
    assert_eq!(lot.row, Some(1));
}

#[test]
fn every_column_is_read() {
    let text = "print,cut,count,width,length,allowance,color,value,directional,keep,where,price,note,maker\n\
                rust leaf,fat quarter,2,17 3/4,21,1/4,#B5532A,dark,yes,y,shelf B2,\"3,25\",\"a, b\",Harbour Mill\n";
    let (stash, diagnostics) = read(text);
    assert!(errors(&diagnostics).is_empty());
    let lot = &stash.lots[0];
    assert_eq!((lot.width, lot.length, lot.allowance), (inches("17 3/4"), inches("21"), inches("1/4")));
    assert_eq!((lot.sheet_width(), lot.sheet_length()), (inches("17 1/2"), inches("20 3/4")));
    assert_eq!((lot.count, lot.directional, lot.keep), (2, true, true));
    assert_eq!(
        (lot.color.as_deref(), lot.value, lot.price),
        (Some("#b5532a"), Some(Value::Dark), Some(Price(325)))
    );
    assert_eq!((lot.place.as_str(), lot.note.as_str()), ("shelf B2", "a, b"));
    assert_eq!(stash.other_columns, ["maker"]);
    assert_eq!(lot.other, ["Harbour Mill"]);
}

#[test]
fn unknown_columns_pass_through_in_their_order() {
    let (stash, diagnostics) = read("fibre,print,washed,cut,source\ncotton,a,yes,FQ, fair \n,b,,FQ,\n");
    assert!(diagnostics.is_empty());
    assert_eq!(stash.other_columns, ["fibre", "washed", "source"]);
    assert_eq!(stash.lots[0].other, ["cotton", "yes", "fair"]);
    assert_eq!(stash.lots[1].other, ["", "", ""]);
}

#[test]
fn rows_of_one_print_add_up_whatever_their_case_and_spaces() {
    let (stash, diagnostics) =
        read("print,cut,count\nTeal Dot,FQ,1\nrust,FQ,1\n teal  dot ,10\" sq,2\nTEAL DOT,strip,1\n");
    let names: Vec<&str> = stash.prints.iter().map(|print| print.name.as_str()).collect();
    assert_eq!(names, ["Teal Dot", "rust"]);
    let prints: Vec<usize> = stash.lots.iter().map(|lot| lot.print.0).collect();
    assert_eq!(prints, [0, 1, 0, 0]);
    assert_eq!(notes(&diagnostics), [(4, "print", "S110")]);
}

#[test]
fn measured_squares_of_one_pack_keep_their_own_sizes() {
    let (stash, _) = read(
        "print,cut,count,width,length\nkite,10 in square,39,9 7/8,9 7/8\nkite,10 in square,3,9 5/8,9 7/8\n",
    );
    let sizes: Vec<(u32, Length, Length)> =
        stash.lots.iter().map(|lot| (lot.count, lot.width, lot.length)).collect();
    assert_eq!(sizes, [(39, inches("9 7/8"), inches("9 7/8")), (3, inches("9 5/8"), inches("9 7/8"))]);
    assert_eq!(stash.prints.len(), 1);
}

#[test]
fn one_stash_in_inches_and_in_metric_is_the_same_stash() {
    let inch = one_lot("print,cut,width,length\na,scrap,2 1/2,4 1/2\n");
    for text in [
        "print,cut,width,length\na,scrap,6.35 cm,11.43 cm\n",
        "print,cut,width,length\na,scrap,63.5 mm,\"0,1143 m\"\n",
        "print,cut,width (mm),length (cm)\na,scrap,63.5,11.43\n",
        "print,cut,size\na,scrap,6.35 x 11.43 cm\n",
    ] {
        let metric = one_lot(text);
        assert_eq!((metric.width, metric.length), (inch.width, inch.length), "{text}");
    }
}

#[test]
fn sizes_round_down_and_allowances_up_and_both_are_said() {
    let (stash, diagnostics) = read("print,cut,width,length,allowance\na,scrap,5 1/3,6 1/3,1/3\n");
    let lot = &stash.lots[0];
    assert_eq!((lot.width.ticks(), lot.length.ticks()), (8128 * 16 / 3, 8128 * 19 / 3));
    assert_eq!(lot.allowance.ticks(), 8128 / 3 + 1);
    assert_eq!(notes(&diagnostics), [(2, "width", "F202"), (2, "length", "F202"), (2, "allowance", "F202")]);
    assert!(diagnostics[0].message.contains("rounded down"));
    assert!(diagnostics[2].message.contains("rounded up"));
}

#[test]
fn narrow_strips_are_a_cut_of_fabric_of_their_own() {
    for name in ["1 1/2-inch strip", "1 1/2\" WOF strips", "strip 1½", "1.5 inch strip", "1 1/2 x 42"] {
        let lot = one_lot(&format!("print,cut\na,\"{}\"\n", name.replace('"', "\"\"")));
        assert_eq!(lot.cut.entry().name, "1 1/2-inch strip", "{name}");
        assert_eq!((lot.width, lot.length), (inches("40"), inches("1 1/2")), "{name}");
    }
}

#[test]
fn the_allowance_of_the_run_holds_where_the_row_has_none() {
    let text = "print,cut,allowance\na,10 in square,\nb,10 in square,0\nc,10 in square,1/8\nd,WOF strip,\ne,half yard,\n";
    let (stash, diagnostics) = stash::read("stash.csv", text.as_bytes(), inches("1/2"));
    assert!(diagnostics.is_empty(), "{diagnostics:?}");
    let sheets: Vec<(Length, Length)> =
        stash.lots.iter().map(|lot| (lot.sheet_width(), lot.sheet_length())).collect();
    let of = |w, l| (inches(w), inches(l));
    // Squares lose it on both sides, a strip at its ends, yardage along its length.
    let expected = [
        of("9 1/2", "9 1/2"),
        of("10", "10"),
        of("9 7/8", "9 7/8"),
        of("39 1/2", "2 1/2"),
        of("40", "17 1/2"),
    ];
    assert_eq!(sheets, expected);
}

#[test]
fn a_length_written_as_the_cut_is_yardage() {
    let lot = one_lot("print,cut,width\na,2 1/4 yd,41\n");
    assert_eq!(
        (lot.cut.entry().name.as_str(), lot.width, lot.length),
        ("yardage", inches("41"), inches("81"))
    );
    assert_eq!(one_lot("print,cut\na,\"1,5 m\"\n").length, inches("150 cm"));
}

#[test]
fn a_size_without_a_cut_is_a_scrap() {
    assert_eq!(one_lot("print,size\na,7 x 9\n").cut.entry().name, "scrap");
    assert_eq!(one_lot("print,cut,width,length\na,-,7,9\n").cut.entry().name, "scrap");
}

#[test]
fn every_mistake_of_a_messy_sheet_is_reported_in_one_run() {
    let text = "\
My stash;;;;;;;;;;;
Fabric;Type;Qty;Width;Length;Trim;Colour;Tone;One way;Keep;Cost;Where
teal dot;FQ;3;;;;#2a9d8f;medium;;;3,25;shelf B2
;FQ;1;;;;;;;;;
rust leaf;fat qarter;1;;;;;;;;;
cream;yardage;1;41;;;;;;;;
grey;scrap;1;9 7/8x;5;;;;;;;
sky;10 in sq;0;;;;;;;;;
sky;10 in sq;-2;;;;;;;;;
sky;10 in sq;2,5;;;;;;;;;
sky;10 in sq;many;;;;;;;;;
night;yardage;1;130;2 yd;;;;;;;
night;yardage;1;40;101 yd;;;;;;;
stone;scrap;1;-3;0;;;;;;;
\"moss;
green\";strip;1;;;;#12345;pastel;perhaps;;3.255;
fern;2,5\" square;1;;;2 1/2;;;;;;
fern;FQ;1;\"2,500 mm\";;1/4 inch;;;;maybe;gift;
;;;;;;;;;;;
oak;;1;;;;;;;;;
oak;FQ;1;;
Teal Dot;FQ;1o;1o in;;;#111111;dark;yes;;;
";
    let (stash, diagnostics) = read(text);
    assert_eq!(
        errors(&diagnostics),
        [
            (4, "Fabric", "F208"),
            (5, "Type", "S101"),
            (6, "Length", "S102"),
            (7, "Width", "F201"),
            (8, "Qty", "F205"),
            (9, "Qty", "F205"),
            (10, "Qty", "F204"),
            (11, "Qty", "F204"),
            (12, "Width", "S103"),
            (13, "Length", "S104"),
            (14, "Width", "F203"),
            (14, "Length", "F203"),
            (15, "One way", "F207"),
            (15, "Cost", "S106"),
            (17, "Trim", "S105"),
            (18, "Keep", "F207"),
            (18, "Cost", "S106"),
            (18, "Width", "F201"),
            (20, "Type", "F208"),
            (21, "", "F106"),
            (22, "Qty", "F204"),
            (22, "Width", "F201"),
        ]
    );
    assert_eq!(warnings(&diagnostics), [(15, "Colour", "S111"), (15, "Tone", "S112")]);
    assert_eq!(notes(&diagnostics), [(1, "", "F112"), (0, "", "F108")]);
    let kept: Vec<&str> = stash.lots.iter().map(|lot| stash.print(lot.print).name.as_str()).collect();
    assert_eq!(kept, ["teal dot"]);
}

#[test]
fn a_message_says_where_what_and_what_to_do() {
    let text = "print,cut,width,length\na,scrap,9 7/8x,5\nb,fat qarter,,\n";
    let shown: Vec<String> = read(text).1.iter().map(|diagnostic| diagnostic.to_string()).collect();
    assert_eq!(
        shown,
        [
            "stash.csv, line 2, field \"width\": \"9 7/8x\" is not a length: expected a number with in, cm, mm, yd or m \
             after it, e.g. 9 7/8 in\n  help: remove \"x\"  [F201]",
            "stash.csv, line 3, field \"cut\": \"fat qarter\" is not a known cut of fabric\n  \
             help: did you mean \"fat quarter\"?  [S101]",
        ]
    );
}

#[test]
fn an_allowance_that_leaves_nothing_is_refused_even_when_the_run_sets_it() {
    let text = "print,cut,allowance\na,2 1/2-inch square,\nb,2 1/2-inch strip,\nc,10 in square,\n";
    let (stash, diagnostics) = stash::read("stash.csv", text.as_bytes(), inches("2 1/2"));
    assert_eq!(errors(&diagnostics), [(2, "allowance", "S105")]);
    assert!(diagnostics[0].message.contains("for the run"));
    assert_eq!(stash.lots.len(), 2);
}

#[test]
fn one_print_in_two_colours_or_directions_is_a_warning() {
    let text = "print,cut,color,value,directional\nteal,FQ,#2a9d8f,dark,yes\nteal,FQ,#2A9D8F,Dark,yes\nteal,FQ,,,yes\n\
                teal,FQ,green,light,no\n";
    let (stash, diagnostics) = read(text);
    assert_eq!(
        warnings(&diagnostics),
        [(5, "directional", "S109"), (5, "color", "S108"), (5, "value", "S108")]
    );
    let directional: Vec<bool> = stash.lots.iter().map(|lot| lot.directional).collect();
    assert_eq!(directional, [true; 4], "one row that has an up is enough");
}

#[test]
fn a_size_far_from_the_cuts_is_a_warning_and_a_swapped_one_a_note() {
    let text = "print,cut,width,length\na,FQ,9,21\nb,10 in square,5,5\nc,FQ,18,21\nd,FQ,20,17\ne,half yard,60,17\n\
                f,10 in square,9 1/2,9 3/4\ng,half yard,40,36\n";
    let (stash, diagnostics) = read(text);
    assert_eq!(warnings(&diagnostics), [(2, "width", "S107"), (3, "width", "S107"), (8, "width", "S107")]);
    assert_eq!(notes(&diagnostics), [(4, "width", "S114")]);
    assert_eq!(stash.lots[0].width, inches("9"));
}

#[test]
fn a_size_given_twice_must_agree() {
    assert_eq!(one_lot("print,size,width,length\na,7 x 9,7,\n").length, inches("9"));
    let (_, diagnostics) = read("print,size,width,length\na,7 x 9,8,\nb,7,,\n");
    assert_eq!(errors(&diagnostics), [(2, "size", "F209"), (3, "size", "F201")]);
}
