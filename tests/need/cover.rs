//! The page for a pattern's cover: what it says, in which order, and that every piece of the pattern is on it.

#[path = "../print_sheet/markup.rs"]
mod markup;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use cutcloth::app::Given;
use cutcloth::app::need::{Asked, Cutting, Requirement};
use cutcloth::length::{Length, Units};
use cutcloth::need::{Assumptions, Lost, Percent, Spare, Step};

fn root() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR"))
}

fn quick() -> Assumptions {
    Assumptions { work: 300_000, other_widths: Vec::new(), ..Assumptions::default() }
}

fn answer(path: &Path, how: &Assumptions) -> Requirement {
    let name = path.file_name().expect("a file").to_string_lossy().into_owned();
    let file = Given { name, bytes: fs::read(path).expect("the case is there") };
    Requirement::of(&Asked { pattern: &file, size: None, how, owned: None })
        .unwrap_or_else(|failure| panic!("{}: {failure:?}", path.display()))
}

fn page(answer: &Requirement, which: Cutting) -> String {
    String::from_utf8(answer.cover(which, Some("25 November")).expect("the pieces add up")).expect("text")
}

fn written(chart: &str, how: &Assumptions, which: Cutting) -> String {
    let file = Given { name: "chart.csv".to_owned(), bytes: chart.as_bytes().to_vec() };
    let asked = Asked { pattern: &file, size: None, how, owned: None };
    page(&Requirement::of(&asked).expect("it can be worked out"), which)
}

/// The texts in their order on the page.
fn in_order(page: &str, texts: &[&str]) {
    let mut rest = page;
    for text in texts {
        let at = rest.find(text).unwrap_or_else(|| panic!("{text:?} is not there, or too early"));
        rest = &rest[at + text.len()..];
    }
}

#[test]
fn the_page_says_what_to_buy_then_why_then_how_to_cut() {
    let page = page(&answer(&root().join("data/tidepool/pattern.toml"), &quick()), Cutting::Strips);
    in_order(
        &page,
        &[
            "<h1>Tidepool Quilt</h1>",
            "25 November",
            "Finished size 68 x 68 in.",
            "Fabric to buy",
            "urchin: urchin print",
            "3/4 yd",
            "border: deep water",
            "2 yd",
            "We assumed",
            "Usable width of the fabric, selvages not counted: 40 in.",
            "Seam allowance 1/4 in.",
            "The fabric is not washed before cutting.",
            "1 in of each fabric is reckoned for squaring up its end.",
            "8 in larger than the top",
            "How the amounts come about",
            "68 1/2 in</td><td>1 in squaring up</td><td>69 1/2 in</td><td>2 yd (72 in)</td><td>2 1/2 in",
            "Before you cut",
            "Close the blade after every cut",
            "An iron burns",
            "Cutting, fabric by fabric",
            "sea mist, 1 3/8 yd",
            "deep water, 2 yd",
            "Every piece: needed = cut + short",
        ],
    );
    assert_eq!(page.matches("<svg").count(), 8, "a drawing for each length bought");
    for never in ["<script", "http://", "https://", "<img", "<link"] {
        // The name of a drawing's format is an address, though nothing is fetched from it.
        let page = page.replace("http://www.w3.org/2000/svg", "");
        assert!(!page.contains(never), "{never} is on the page");
    }
    assert_eq!(markup::fault(&page), None);
}

#[test]
fn every_published_pattern_has_a_page_with_all_its_pieces_in_either_cutting() {
    let mut cases: Vec<PathBuf> = Vec::new();
    for folder in fs::read_dir(root().join("tests/cases/pattern")).expect("the cases") {
        cases.push(folder.expect("a folder").path().join("pattern.toml"));
    }
    cases.sort();
    cases.push(root().join("tests/cases/need/useful-units.csv"));
    let how = Assumptions { width: Length::from_inches(42), ..quick() };
    let mut pages = 0;
    for case in cases.iter().filter(|case| case.exists()) {
        let answer = answer(case, &how);
        for which in [Cutting::Strips, Cutting::Least] {
            // A page is refused when a piece is missing or too many: the totals would not close.
            let page = page(&answer, which);
            assert_eq!(markup::fault(&page), None, "{}", case.display());
            pages += 1;
        }
    }
    assert!(pages >= 20, "{pages} pages");
}

#[test]
fn long_pieces_are_the_first_cuts_of_their_card() {
    // Strips of 2 1/2 in cut first from 72 in would leave 57 in, and no border of 60 1/2 in.
    let chart = "block,make,label,role,width,height,count\n\
        quilt,1,leaf,green,9 1/2,9 1/2,40\n\
        quilt,1,border,ground,3 1/2,60 1/2,4\nquilt,1,square,ground,2 1/2,2 1/2,90\n";
    for which in [Cutting::Strips, Cutting::Least] {
        let page = written(chart, &quick(), which);
        let cutting = &page[page.find("Cutting, fabric by fabric").expect("the cards")..];
        let card = &cutting[cutting.find(": ground, ").expect("its card")..];
        let steps = &card[card.find("class=\"steps\"").expect("its steps")..];
        in_order(steps, &["border", "square"]);
    }
}

#[test]
fn the_least_cutting_buys_less_and_is_what_the_page_then_shows() {
    let chart =
        "block,make,label,role,width,height,count\nall,1,tall,sea,4 1/2,8 1/2,3\nall,1,small,sea,4,4,12\n";
    let how = Assumptions {
        work: 3_000_000,
        spare: Spare { squaring: Length::ZERO, ..Spare::default() },
        ..quick()
    };
    let amount = |which: Cutting| {
        let page = written(chart, &how, which);
        let row = page[page.find("<td>sea</td><td>").expect("a row") + 16..].to_owned();
        row[..row.find('<').expect("its end")].to_owned()
    };
    assert_eq!((amount(Cutting::Strips).as_str(), amount(Cutting::Least).as_str()), ("3/8 yd", "1/4 yd"));
}

#[test]
fn washing_first_is_stated_and_buys_enough() {
    let chart = "block,make,label,role,width,height,count\nall,1,A1,sea,4 1/2,4 1/2,60\n";
    let how = quick().washed(Lost { across: Percent::whole(5), along: Percent::whole(3) });
    let page = written(chart, &how, Cutting::Strips);
    let said = "washed before cutting and loses 5 % of its width and 3 % of its length: 40 in are reckoned as 38 in.";
    assert!(page.contains(said), "{page}");
    // 8 strips of 4 1/2 in and 1 in are 37 in, of which 38 1/4 in before washing leave enough: 37 / 0.97 = 38.14...
    assert!(page.contains("1 in squaring up, 1 5/32 in for shrinkage</td><td>38 5/32 in"), "{page}");
    // 40 1/2 in are bought, of which washing leaves 39.285 in; the cards cut those.
    for said in [
        "once washed",
        "sea, 1 1/8 yd before washing, yardage, 38 x 39 9/32 in",
        "38 x 38 9/32 in must remain",
    ] {
        assert!(page.contains(said), "{said:?} is not in {page}");
    }
    assert!(!page.contains("Keep it apart"), "bought fabric is not kept among other cuts");
    for (percent, needed) in [(0_u32, 37), (1, 37), (3, 36), (7, 61), (25, 100)] {
        let spare = Spare { shrinkage: Percent::whole(percent), squaring: Length::ZERO, ..Spare::default() };
        let total = spare.work_out(Length::from_inches(needed), Length::ZERO, Step::EighthYard).total;
        let left = |ticks: i64| i128::from(ticks) * i128::from(100 - percent);
        let wanted = i128::from(Length::from_inches(needed).ticks()) * 100;
        assert!(left(total.ticks()) >= wanted, "{percent} % of {needed}: too little");
        assert!(left(total.ticks() - 1) < wanted, "{percent} % of {needed}: a tick less is enough");
    }
    // Metric rulers have other marks; the width is never more than what is left.
    let metric = Assumptions { units: Units::Metric, ..quick() }
        .washed(Lost { across: Percent::whole(7), along: Percent::NONE });
    assert!(metric.width.ticks() * 100 <= Length::from_inches(40).ticks() * 93);
    assert!(metric.width > Length::from_inches(37));
}

#[test]
fn pages_of_other_options_carry_other_marks() {
    let chart = "block,make,label,role,width,height,count\nall,1,A1,sea,4 1/2,4 1/2,60\n";
    let mark = |how: &Assumptions, which: Cutting| {
        let page = written(chart, how, which);
        let at = page.find("cutting, revision ").expect("a mark") + "cutting, revision ".len();
        page[at..at + 8].to_owned()
    };
    let first = mark(&quick(), Cutting::Strips);
    assert_eq!(first, mark(&quick(), Cutting::Strips));
    let wide = Assumptions { width: Length::from_inches(42), ..quick() };
    assert_ne!(first, mark(&wide, Cutting::Strips));
    assert_ne!(first, mark(&quick(), Cutting::Least));
}

#[test]
fn one_page_tells_one_amount_of_a_fabric() {
    let pattern = "[role]\nA = \"sea\"\n[[block]]\nname = \"One\"\nfinished = \"6 in\"\nrows = [\"A A\", \"A A\"]\n\
        [layout]\nacross = 3\ndown = 3\n[[layout.border]]\nwidth = \"4 in\"\nrole = \"A\"\n\
        [[size]]\nname = \"small\"\nfinished = \"20 x 20 in\"\nacross = 2\ndown = 2\n\
        [[size]]\nname = \"large\"\nfinished = \"32 x 32 in\"\nacross = 4\ndown = 4\n";
    let file = Given { name: "one.toml".to_owned(), bytes: pattern.as_bytes().to_vec() };
    let how = quick();
    let asked = Asked { pattern: &file, size: Some("large"), how: &how, owned: None };
    let answer = Requirement::of(&asked).expect("it can be worked out");
    let text = String::from_utf8(answer.written(cutcloth::app::need::Format::Text)).expect("text");
    let sizes = &text[text.find("Every size").expect("the sizes")..];
    assert!(sizes.lines().nth(2).is_some_and(|line| line.contains('(')), "the least is less: {sizes}");
    for which in [Cutting::Strips, Cutting::Least] {
        let page = page(&answer, which);
        let sizes = &page[page.find("In every size").expect("the sizes")..];
        let sizes = &sizes[..sizes.find("</table>").expect("their end")];
        assert!(!sizes.contains('('), "two amounts without a word about it: {sizes}");
    }
}

#[test]
fn a_print_with_an_up_is_never_turned_and_its_cost_is_told() {
    let chart = "block,make,label,role,width,height,count\nall,1,post,sea,2 1/2,6 1/2,30\n";
    let how = Assumptions { directional: vec!["sea".to_owned()], ..quick() };
    // Upright 16 a strip: two strips of 6 1/2 in. Turned 6 a strip: five strips of 2 1/2 in.
    let page = written(chart, &how, Cutting::Strips);
    assert!(
        page.contains(
            "Prints with an up, of whose pieces width and length are never exchanged: sea (1/2 yd; 3/8 yd"
        ),
        "{page}"
    );
    assert!(page.contains(">up</text>"), "the drawing shows which way is up");
    assert!(!markup::words(&page).contains("6 1/2 x 2 1/2 in"), "a piece lies across");
    let free = written(chart, &quick(), Cutting::Strips);
    assert!(free.contains("No print is taken to have an up"), "{free}");
    let file = Given { name: "chart.csv".to_owned(), bytes: chart.as_bytes().to_vec() };
    let asked = Asked { pattern: &file, size: None, how: &how, owned: None };
    let answer = Requirement::of(&asked).expect("it can be worked out");
    let text = String::from_utf8(answer.written(cutcloth::app::need::Format::Text)).expect("text");
    assert!(
        text.contains("if they might be turned, 3/8 yd by strips (keeping its up takes 1/2 in more)"),
        "{text}"
    );
}

#[test]
fn strips_are_cut_with_the_longest_pieces_first() {
    let chart = "block,make,label,role,width,height,count\n\
        quilt,1,leaf,green,9 1/2,9 1/2,8\nquilt,1,stem,green,2 1/2,38,3\nquilt,1,bud,green,3,3,13\n";
    let page = written(chart, &quick(), Cutting::Strips);
    let steps = &page[page.find("class=\"steps\"").expect("its steps")..];
    in_order(steps, &["1 to 3", "2 1/2 in", "4 and 5", "9 1/2 in", "6", "3 in"]);
}

#[test]
fn a_role_that_keeps_its_up_in_the_pattern_file_is_compared_with_one_that_need_not() {
    let pattern = |direction: &str| {
        let text = format!(
            "[role.sea]\n{direction}\n[[piece]]\nlabel = \"post\"\nrole = \"sea\"\nsize = \"2 1/2 x 6 1/2\"\ncount = 30\n"
        );
        let file = Given { name: "posts.toml".to_owned(), bytes: text.into_bytes() };
        let how = quick();
        let asked = Asked { pattern: &file, size: None, how: &how, owned: None };
        let answer = Requirement::of(&asked).expect("it can be worked out");
        let json: serde_json::Value =
            serde_json::from_slice(&answer.written(cutcloth::app::need::Format::Json)).expect("JSON");
        json["fabrics"][0].clone()
    };
    let (kept, free) = (pattern("direction = \"kept\""), pattern("direction = \"free\""));
    assert_eq!(kept["if_turned"]["by_strips"], free["at"]["by_strips"]);
    assert!(free["if_turned"].is_null());
    // 13 in kept, 12 1/2 in free; the least of both is proved.
    assert_eq!(kept["at"]["at_least"]["exact"], 13 * 8128);
    assert_eq!(kept["if_turned"]["at_least"]["exact"].as_i64(), free["at"]["at_least"]["exact"].as_i64());
    assert!(kept["at"]["at_least"]["exact"].as_i64() > free["at"]["at_least"]["exact"].as_i64());
    let turned = |layout: &serde_json::Value| {
        layout.as_array().expect("a list").iter().any(|piece| piece["turned"] == true)
    };
    assert!(!turned(&kept["at"]["layout"]), "nothing is turned");
}

fn run(folder: &Path, more: &[&str]) -> Output {
    let pattern = root().join("data/tidepool/pattern.toml");
    let mut command = Command::new(env!("CARGO_BIN_EXE_cutcloth"));
    command.current_dir(folder).arg("need").arg(pattern).args(["--effort", "1", "--cover", "cover.html"]);
    command.args(more).output().expect("the program starts")
}

#[test]
fn the_file_is_written_once_and_replaced_only_when_told_to() {
    let folder = tempfile::TempDir::new().expect("a folder");
    assert_eq!(run(folder.path(), &[]).status.code(), Some(0));
    let first = fs::read(folder.path().join("cover.html")).expect("the page");
    let again = run(folder.path(), &["--units", "metric"]);
    assert_eq!(again.status.code(), Some(2));
    assert!(
        String::from_utf8_lossy(&again.stderr).contains("cover.html is there already; nothing was written")
    );
    assert_eq!(fs::read(folder.path().join("cover.html")).expect("the page"), first);
    assert_eq!(run(folder.path(), &["--units", "metric", "--force"]).status.code(), Some(0));
    let metric = fs::read_to_string(folder.path().join("cover.html")).expect("the page");
    assert!(metric.contains("Finished size 172.72 x 172.72 cm."));
    assert_eq!(fs::read_dir(folder.path()).expect("a folder").count(), 1, "nothing else is left behind");
}

#[test]
fn a_label_of_several_sizes_has_its_block_and_squares_say_how_they_are_halved() {
    let chart = "block,make,label,role,width,height,count,shape\n\
        Sail,2,A1,sea,4 7/8,4 7/8,2,cut once\nHull,2,A1,sea,2 1/2,2 1/2,4,\nHull,2,A2,sea,7 1/4,7 1/4,1,cut twice\n";
    let page = markup::words(&written(chart, &quick(), Cutting::Strips));
    for label in ["A1 of Sail", "A1 of Hull", "A2"] {
        assert!(page.contains(label), "{label} is not in {page}");
    }
    assert!(!page.contains("A2 of Hull"), "one size needs no block: {page}");
    let file = Given { name: "chart.csv".to_owned(), bytes: chart.as_bytes().to_vec() };
    let how = quick();
    let asked = Asked { pattern: &file, size: None, how: &how, owned: None };
    let answer = Requirement::of(&asked).expect("it can be worked out");
    let text = String::from_utf8(answer.written(cutcloth::app::need::Format::Text)).expect("text");
    for said in [
        "4 x A1 of Sail: squares, then cut once corner to corner (4 7/8 x 4 7/8 in)",
        "2 x A2: squares, then cut twice corner to corner (7 1/4 x 7 1/4 in)",
        "8 x A1 of Hull (2 1/2 x 2 1/2 in)",
    ] {
        assert!(text.contains(said), "{said:?} is not in {text}");
    }
}
