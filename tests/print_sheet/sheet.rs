//! What a person reads on the print sheet.

use cutcloth::cutting::{Axis, Layout};
use cutcloth::length::{Length, Units};
use cutcloth::planning::{Short, Verdict};
use cutcloth::report::ReportError;

use crate::markup;
use crate::tidepool::{Quilt, e, kinds, labelled, piece, row, tidepool};

fn sheet(quilt: &Quilt) -> String {
    quilt.file("sheet.html")
}

fn count(text: &str, what: &str) -> usize {
    text.matches(what).count()
}

#[test]
fn every_piece_every_print_and_its_place_are_on_the_sheet() {
    let quilt = tidepool();
    let words = markup::words(&sheet(&quilt));
    for label in ["A1", "A2", "B1", "C1", "D1"] {
        assert!(words.contains(label), "{label}");
    }
    for print in &quilt.stash.prints {
        assert!(words.contains(&print.name), "{}", print.name);
    }
    assert!(words.contains("shelf B2"));
    assert!(words.contains("revision 0a1b2c3d"));
}

#[test]
fn the_verdict_comes_before_everything_else() {
    let words = markup::words(&sheet(&tidepool()));
    let verdict = words.find("It fits.").expect("the verdict is told");
    assert!(verdict < words.find("Before you cut").expect("cautions"));
    assert!(verdict < words.find("Card 1").expect("cards"));
}

#[test]
fn every_element_that_is_opened_is_closed() {
    assert_eq!(markup::fault(&sheet(&tidepool())), None);
    assert!(markup::fault("<p><b></p></b>").is_some(), "the check itself notices");
    assert!(markup::fault("<p>").is_some());
}

#[test]
fn nothing_outside_the_file_is_needed_to_read_it() {
    let sheet = sheet(&tidepool());
    for reference in ["<script", "<link", "<img", "<iframe", "src=", "@import", "javascript:", "url(http"] {
        assert!(!sheet.contains(reference), "{reference}");
    }
    // The only address is the name of the SVG language, which no browser fetches.
    assert_eq!(count(&sheet, "http"), count(&sheet, "xmlns=\"http://www.w3.org/2000/svg\""));
    for target in sheet.split("href=\"").skip(1) {
        assert!(target.starts_with('#'), "a link leads out of the file");
    }
}

#[test]
fn a_hostile_name_stays_text_wherever_it_is_printed() {
    let mut quilt = tidepool();
    let hostile = "<b>&\"'</b><script>alert(1)</script></style>";
    quilt.stash.prints[0].name = hostile.to_owned();
    quilt.stash.lots[0].place = hostile.to_owned();
    quilt.pattern.name = hostile.to_owned();
    quilt.pattern.roles[0].name = hostile.to_owned();
    quilt.pattern.blocks[0].name = hostile.to_owned();
    for line in &mut quilt.pattern.blocks[0].pieces {
        line.label = format!("{hostile}{}", line.label);
    }
    for piece in &mut quilt.demand.pieces {
        if piece.block.0 == 0 {
            piece.label = format!("{hostile}{}", piece.label);
        }
    }
    let sheet = sheet(&quilt);
    assert_eq!(markup::fault(&sheet), None);
    assert!(!sheet.contains("<script"));
    assert_eq!(count(&sheet, "</style>"), 1);
    assert!(sheet.contains("&lt;b&gt;&amp;&quot;&#39;&lt;/b&gt;"));
}

#[test]
fn the_cautions_for_blade_and_iron_are_on_every_sheet() {
    let words = markup::words(&sheet(&tidepool()));
    for caution in ["Close the blade after every cut", "Cut away from yourself", "children", "iron", "makers"]
    {
        assert!(words.contains(caution), "{caution}");
    }
    assert!(words.contains("Check every size with your own ruler before you cut"));
}

#[test]
fn nothing_is_printed_when_a_piece_is_lost_on_the_way() {
    let mut quilt = tidepool();
    quilt.outcome.plan.sheets.pop();
    let told = quilt.files().expect_err("eight pieces are missing");
    assert_eq!(
        told,
        ReportError::DoesNotClose {
            block: "Limpet".to_owned(),
            label: "C1".to_owned(),
            need: 8,
            cut: 0,
            short: 0
        }
    );
    assert!(told.to_string().contains("C1"));
}

#[test]
fn nothing_is_printed_when_a_piece_is_cut_twice() {
    let mut quilt = tidepool();
    let again = quilt.outcome.plan.sheets[0].clone();
    quilt.outcome.plan.sheets.push(again);
    assert!(matches!(quilt.files(), Err(ReportError::DoesNotClose { need: 6, cut: 7, .. })));
}

#[test]
fn sheets_cut_alike_share_one_card_and_one_drawing() {
    let sheet = sheet(&tidepool());
    // One drawing more shows the blocks as bars of their prints.
    assert_eq!(count(&sheet, "<svg"), 4, "yardage, fat quarter, and six squares together");
    assert!(sheet.contains("Card 3 of 3: 6 cut alike, 10-inch square, 10 x 10 in"));
    assert!(sheet.contains("6 are cut alike: make 2 stacks of 3, at most 4 layers at once."));
}

#[test]
fn twenty_four_squares_cut_alike_make_six_stacks_of_four() {
    let mut quilt = tidepool();
    // Twenty-four Urchin blocks from one print held twenty-four times.
    quilt.pattern.blocks.truncate(1);
    quilt.pattern.blocks[0].make = 24;
    quilt.pattern.blocks[0].pieces.truncate(1);
    quilt.demand = cutcloth::pattern::demand::Demand::expand(
        &quilt.pattern,
        &cutcloth::pattern::demand::Loosened::default(),
    );
    quilt.stash.lots.truncate(1);
    quilt.stash.lots[0].count = 24;
    let kinds = kinds(&quilt.demand);
    let model = quilt.outcome.plan.sheets[0].clone();
    quilt.outcome.plan.sheets = labelled(&quilt.demand, "A1")
        .into_iter()
        .zip(1..)
        .map(|(id, copy)| {
            let large = row(Axis::Height, e(80), vec![(e(36), piece(id))]);
            let root = row(Axis::Width, e(80), vec![(e(36), large)]);
            let layout = Layout::new(e(80), e(80), root, &kinds).expect("a layout");
            cutcloth::planning::SheetPlan { copy, layout, ..model.clone() }
        })
        .collect();
    quilt.outcome.plan.prints = vec![Some(cutcloth::stash::PrintId(0)); 24];
    let told = sheet(&quilt);
    assert!(told.contains("24 are cut alike: make 6 stacks of 4, at most 4 layers at once."));
    quilt.settings.layers = 5;
    assert!(sheet(&quilt).contains("make 4 stacks of 5 and 1 stack of 4, at most 5 layers at once."));
}

#[test]
fn a_cut_longer_than_the_usual_ruler_is_flagged_and_a_shorter_one_is_not() {
    let words = markup::words(&sheet(&tidepool()));
    let (yardage, rest) = words.split_once("Card 2 of 3").expect("three cards");
    assert!(yardage.contains("Long cut, 81 in: fold the fabric or use a long ruler."));
    assert!(!rest.contains("Long cut"), "a fat quarter and squares need no fold");
}

#[test]
fn a_print_with_an_up_says_so_and_shows_an_arrow_and_others_do_not() {
    let told = sheet(&tidepool());
    assert_eq!(count(&told, "One-way print:"), 1);
    assert_eq!(count(&told, "all layers face up"), 1);
    assert_eq!(count(&told, ">up</text>"), 1);
}

#[test]
fn truing_up_is_the_first_step_where_an_allowance_is_set_and_only_there() {
    let words = markup::words(&sheet(&tidepool()));
    assert_eq!(count(&words, "True up:"), 1);
    let card = words.split("Card 2 of 3").nth(1).expect("the fat quarter's card");
    let steps = card.split("What remains").nth(1).expect("the steps");
    let true_up = steps.find("True up:").expect("trued");
    assert!(true_up < steps.find("8 1/2 in").expect("the first setting"));
    assert!(card.contains("20 3/4 x 17 3/4 in must remain"));
    assert!(card.contains("18 x 17 in once trued up, so on 18 1/4 x 17 1/4 in before"));
    // A fat quarter of 21 x 18 in loses 1/4 in of either measure, once.
    assert!(
        card.contains("taking at most 1/4 in off the width and 1/4 in off the length. 20 3/4 x 17 3/4 in")
    );
}

#[test]
fn squaring_up_is_told_in_one_line_as_it_is_done() {
    let words = |quilt: &Quilt| markup::words(&sheet(quilt));
    let mut quilt = tidepool();
    let once =
        "Squaring up takes at most 1/4 in once off the width and once off the length of a sheet; each card";
    assert!(words(&quilt).contains(once));
    for lot in &mut quilt.stash.lots {
        lot.allowance = Length::ZERO;
    }
    assert!(words(&quilt).contains("Squaring up: nothing is taken off"));
    let yard = quilt.stash.lots.iter_mut().find(|lot| lot.cut.entry().name == "yardage").expect("yardage");
    yard.allowance = e(4);
    let yardage = "Squaring up takes at most 1/2 in off the length only of yardage; each card says how much.";
    assert!(words(&quilt).contains(yardage));
}

#[test]
fn each_cut_tells_its_ruler_setting_and_what_remains() {
    let words = markup::words(&sheet(&tidepool()));
    let card = words.split("Card 3 of 3").nth(1).expect("the squares' card");
    let order = ["4 1/2 in", "5 1/2 in across", "2 1/2 in", "3 in across, left over"];
    let mut rest = card;
    for part in order {
        let at = rest.find(part).unwrap_or_else(|| panic!("{part} comes next"));
        rest = &rest[at + part.len()..];
    }
    assert!(card.contains("Works if your piece measures at least 7 x 9 in."));
}

#[test]
fn doubles_that_stay_whole_are_named() {
    let words = markup::words(&sheet(&tidepool()));
    assert!(words.contains("5 prints once: urchin red, anemone"));
    assert!(words.contains("1 print twice: sea glass"));
    assert!(words.contains("sea glass (1 of 2)"));
}

#[test]
fn every_block_copy_has_its_prints_and_a_bag_label() {
    let told = sheet(&tidepool());
    assert_eq!(count(&told, "class=\"bag\""), 6 + 4 + 1);
    let words = markup::words(&told);
    assert!(words.contains("Urchin 3 of 6"));
    assert!(words.contains("limpet grey: 1 A1, 2 A2"));
}

#[test]
fn what_is_short_is_told_before_any_cutting() {
    let mut quilt = tidepool();
    quilt.outcome.verdict = Verdict::Impossible;
    let sheets = &mut quilt.outcome.plan.sheets;
    sheets.pop();
    let limpets = quilt.demand.sets.iter().enumerate().filter(|(_, set)| set.role.0 == 2);
    let short: Vec<usize> = limpets.map(|(index, _)| index).collect();
    for &index in &short {
        quilt.outcome.plan.prints[index] = None;
        quilt.outcome.plan.short.push(Short {
            set: cutcloth::pattern::demand::SetId(index),
            reason: "no fabric is large enough".to_owned(),
        });
    }
    let words = markup::words(&sheet(&quilt));
    let verdict = words.find("It does not fit.").expect("the verdict");
    let what = words.find("no fabric is large enough").expect("the reason");
    let card = words.find("Card 1").expect("what can be cut");
    assert!(verdict < what && what < card);
    assert!(quilt.file("buy.csv").contains("4 1/2 in,8 1/2 in"));
}

#[test]
fn metric_lengths_are_told_throughout() {
    let mut quilt = tidepool();
    quilt.settings.units = Units::Metric;
    let words = markup::words(&sheet(&quilt));
    assert!(words.contains("6.35 cm"));
    assert!(!words.contains(" in,") && !words.contains("1/2 in"));
}

#[test]
fn every_colour_of_type_stands_out_from_the_paper() {
    // Contrast ratio: W3C, WCAG 2.2, "contrast ratio" and "relative luminance"; 4.5 to 1 is level AA for text.
    fn luminance(hex: &str) -> f64 {
        let full: String =
            if hex.len() == 3 { hex.chars().flat_map(|c| [c, c]).collect() } else { hex.to_owned() };
        let channel = |at: usize| {
            let value = u8::from_str_radix(&full[at..at + 2], 16).expect("a colour");
            let c = f64::from(value) / 255.0;
            if c <= 0.04045 { c / 12.92 } else { ((c + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * channel(0) + 0.7152 * channel(2) + 0.0722 * channel(4)
    }
    let contrast = |a: &str, b: &str| {
        let (a, b) = (luminance(a), luminance(b));
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    };
    // The formula against published figures: W3C ACT rule afw4f7 prints 12.6 and 3.85 (truncated).
    assert!((contrast("333333", "ffffff") - 12.63).abs() < 0.01);
    assert!((contrast("777777", "eeeeee") - 3.86).abs() < 0.01);
    let told = sheet(&tidepool());
    let style = told.split("</style>").next().expect("a style");
    let mut checked = 0;
    for rule in style.split(['{', ';']) {
        if let Some(color) = rule.trim().strip_prefix("color: #") {
            let color: String = color.chars().take_while(char::is_ascii_hexdigit).collect();
            assert!(contrast(&color, "eeeeee") >= 4.5, "#{color}");
            checked += 1;
        }
    }
    assert!(checked > 0, "the sheet sets the colour of its type");
}
