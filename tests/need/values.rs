//! Published figures on yardage, binding, borders, backing and batting.
//!
//! `values.csv` has a figure a row: its topic, what is worked out, from which inputs, what is printed, and, where we
//! say something else, what and why. A figure that no rule of ours gives is there as `none`, with the reason; one that
//! is checked in another list as `elsewhere`. `sources.csv` has the citations.

use std::collections::{BTreeMap, BTreeSet};

use cutcloth::cutting::Sheet;
use cutcloth::fabric::Cut;
use cutcloth::length::{Direction, Length, Unit, Units, parse, round};
use cutcloth::need::bed::{self, Mattress};
use cutcloth::need::{
    Assumptions, Join, Lost, Percent, Spare, Step, Wanted, backing, batting, bias, binding, border, plain,
    sheets, strips_joined,
};
use cutcloth::pattern::{Sewing, Size};

/// The inputs of a row.
struct Inputs<'a>(Vec<&'a str>);

impl Inputs<'_> {
    fn length(&self, index: usize) -> Length {
        parse(self.0[index], Unit::Inch, Direction::Up).expect("a length").length
    }

    fn count(&self, index: usize) -> u32 {
        self.0[index].parse().expect("a count")
    }

    fn percent(&self, index: usize) -> Percent {
        Percent::read(self.0[index]).expect("a percentage")
    }

    fn size(&self) -> Size {
        Size { width: self.length(0), height: self.length(1) }
    }
}

fn none() -> Spare {
    Spare { squaring: Length::ZERO, ..Spare::default() }
}

fn show(length: Length) -> String {
    length.show(Units::Inches)
}

fn times(length: Length, count: u32) -> Length {
    Length::from_ticks(length.ticks() * i64::from(count))
}

/// Binding strips: perimeter, extra, strip width, fabric width; a seventh input is the seam.
fn binding_strips(of: &Inputs, join: Join, seam: Length) -> u32 {
    let length = binding::length(of.size(), of.length(2));
    binding::strips(length, of.length(4), of.length(3), join, seam).expect("joins leave something")
}

fn pieces(of: &Inputs) -> cutcloth::need::Strips {
    let (width, height, count) = (of.length(1), of.length(2), of.count(0));
    let wanted = [Wanted { labels: Vec::new(), width, height, turn: true, count }];
    plain(of.length(3), &wanted).expect("it goes in")
}

/// How many strips `deep` plain cutting takes from fabric `long`.
fn strips_from(long: Length, deep: Length, width: Length) -> u32 {
    let fits = |count: u32| {
        let wanted = [Wanted { labels: Vec::new(), width, height: deep, turn: true, count }];
        plain(width, &wanted).expect("they go in").length <= long
    };
    (1..).take_while(|&count| fits(count)).last().unwrap_or(0)
}

fn panels(size: Size, width: Length) -> [backing::Panels; 2] {
    backing::ways(size, width, backing::USUAL_SEAM_LOSS).expect("seams leave something")
}

fn least_backing(size: Size, width: Length) -> Length {
    backing::fewest(size, width, backing::USUAL_SEAM_LOSS).expect("seams leave something").total()
}

fn ours(what: &str, of: &Inputs) -> String {
    match what {
        "inches" => show(of.length(0)),
        "depth" => show(times(of.length(1), of.count(0))),
        "amount" => Step::EighthYard.up(of.length(0)).show(),
        "amount by thirds" => Step::ThirdYard.up(of.length(0)).show(),
        "pieces by thirds" => Step::ThirdYard.up(pieces(of).length).show(),
        "metres" => Step::TenthMetre.up(of.length(0)).show(),
        "double fold" => show(binding::strip_width(of.length(0))),
        "straight strips" => binding_strips(of, Join::Straight, of.length(5)).to_string(),
        "diagonal strips" => binding_strips(of, Join::Diagonal, of.length(5)).to_string(),
        "binding yards" => {
            let strips = binding_strips(of, Join::Straight, Length::from_eighths(2));
            Step::EighthYard.up(times(of.length(3), strips)).show()
        }
        "bias strips" => {
            let exact = bias::gives(of.length(0), of.length(1), of.length(2));
            show(round::down(exact, Length::from_ticks(Length::TICKS_PER_INCH / 64)))
        }
        "bias least square" => show(bias::square(of.length(0), of.length(1), of.length(2), of.length(3))),
        "area quarter" => {
            Step::QuarterYard.up(bias::area_across(of.length(0), of.length(1), of.length(2))).show()
        }
        "mattress" => {
            let size = Mattress::find(of.0[0]).expect("a mattress").size();
            size.show(bed::sold_in(size))
        }
        "bed" => {
            let size = bed::quilt(of.size(), of.length(2), of.length(3));
            size.show(Units::Inches)
        }
        "hang" => {
            let quilt = Size { width: of.length(1), height: of.length(2) };
            let (sides, foot) = bed::hang(quilt, Mattress::find(of.0[0]).expect("a mattress").size());
            format!("{} and {}", show(sides), show(foot))
        }
        "before shrinking" => {
            let lost = Lost { across: of.percent(2), along: of.percent(3) };
            bed::before_shrinking(of.size(), lost, of.length(4)).show(Units::Inches)
        }
        "up to 1/8" => show(round::up(of.length(0), Length::from_eighths(1))),
        "usual width" => show(Assumptions::default().width),
        "usual step" => Assumptions::default().step.name(),
        "usual extra" => show(Assumptions::default().finish.extra),
        "usual strip" => show(Assumptions::default().finish.strip_width),
        "squared amount" => {
            let exact = times(of.length(1), of.count(0));
            Spare::default().work_out(exact, of.length(1), Step::EighthYard).amount.show()
        }
        "strips from" => strips_from(of.length(0), of.length(1), of.length(2)).to_string(),
        "mitred" => {
            let lengths = border::mitred(of.size(), of.length(2), of.length(3), of.length(4));
            format!("{} and {}", show(lengths.0), show(lengths.1))
        }
        "butted top" => show(border::butted(of.size(), of.length(2), of.length(3)).1),
        "finished" => {
            let sewing = Sewing { seam: of.length(1), ..Sewing::default() };
            let finished = of.length(0) - of.length(1) - of.length(1);
            assert_eq!(sewing.patch(finished), Ok(of.length(0)));
            show(finished)
        }
        "fat quarters" => {
            let side = of.length(1);
            let wanted =
                [Wanted { labels: Vec::new(), width: side, height: side, turn: true, count: of.count(0) }];
            let sheet = Sheet { width: of.length(2), height: of.length(3) };
            sheets(sheet, &wanted, 1_000_000).expect("it goes in").count.to_string()
        }
        "join loss" => show(Join::Diagonal.loss(of.length(0), Length::ZERO)),
        "binding length" => show(binding::length(of.size(), of.length(2))),
        "bias length" => show(bias::area_gives(of.length(0), of.length(1))),
        "bias square" => show(bias::area_square(of.length(0), of.length(1), of.length(2), of.length(3))),
        "bias area" => {
            let exact = bias::area_across(of.length(0), of.length(1), of.length(2));
            show(round::up(exact, of.length(3)))
        }
        "butted" => show(border::total(border::butted(of.size(), of.length(2), of.length(3)))),
        "border strips" => {
            let lengths = border::butted(of.size(), of.length(2), of.length(3));
            border::strips(lengths, of.length(4), of.length(3)).expect("seams leave something").to_string()
        }
        "lengthwise amount" => Step::EighthYard.up(of.length(0) + of.length(1)).show(),
        "beside" => {
            let lengths = (of.length(0), of.length(1));
            show(border::lengthwise(lengths, of.length(2), of.length(3)).expect("they lie side by side").0)
        }
        "panels upright" => show(panels(of.size(), of.length(2))[0].total()),
        "panels level" => show(panels(of.size(), of.length(2))[1].total()),
        "backing size" => backing::size(of.size(), of.length(2)).show(Units::Inches),
        "joined width" => {
            // The widest backing that so many panels make: the count goes up just beyond it.
            let loss = backing::USUAL_SEAM_LOSS;
            let (count, each) = (of.count(0), of.length(1));
            let wide = times(each, count) - times(loss, count - 1);
            assert_eq!(strips_joined(wide, each, loss), Some(count));
            assert_eq!(strips_joined(wide + Length::from_ticks(1), each, loss), Some(count + 1));
            show(wide)
        }
        "backing quarter" => {
            let size = backing::size(of.size(), of.length(2));
            Step::QuarterYard.up(least_backing(size, of.length(3))).show()
        }
        "backing of" => Step::EighthYard.up(least_backing(of.size(), of.length(2))).show(),
        "batting" => batting::size(of.size(), of.length(2), Units::Inches).show(Units::Inches),
        "packaged" => {
            let packages = batting::packaged();
            batting::least_package(of.size(), &packages)
                .map_or("none".to_owned(), |package| package.name.clone())
        }
        "pieces" => Step::EighthYard.up(pieces(of).length).show(),
        "strips" => pieces(of).count().to_string(),
        "percent" => {
            let spare = Spare { percent: of.count(1), ..none() };
            show(spare.total(of.length(0), Length::ZERO))
        }
        "percent amount" => {
            let spare = Spare { percent: of.count(1), ..none() };
            spare.work_out(of.length(0), Length::ZERO, Step::EighthYard).amount.show()
        }
        "cut" => {
            let entry = Cut::find(of.0[0]).expect("a cut of fabric").entry();
            let units = if of.0[0].starts_with("metric") { Units::Metric } else { Units::Inches };
            let (width, height) = (entry.width.expect("a width"), entry.length.expect("a length"));
            Size { width, height }.show(units)
        }
        other => panic!("nothing is known as {other}"),
    }
}

/// The rows of `values.csv`: id, topic, what, inputs, printed, ours, why, source.
fn rows() -> Vec<csv::StringRecord> {
    let mut rows = csv::Reader::from_reader(include_str!("values.csv").as_bytes());
    rows.records().map(|row| row.expect("a row")).collect()
}

#[test]
fn published_figures_come_out_or_the_difference_has_its_reason() {
    let mut wrong = String::new();
    for row in rows() {
        let (what, printed, stated, why) = (&row[2], &row[4], &row[5], &row[6]);
        if matches!(what, "none" | "elsewhere") {
            assert!(stated.is_empty() && !why.is_empty(), "{}: say why", &row[0]);
            continue;
        }
        let found = ours(what, &Inputs(row[3].split("; ").collect()));
        let expected = if stated.is_empty() { printed } else { stated };
        if found != expected {
            wrong += &format!("{} {what} of {}: {found}, expected {expected}\n", &row[0], &row[3]);
        }
        assert!(stated.is_empty() || (stated != printed && !why.is_empty()), "{}: say why", &row[0]);
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn no_figure_of_a_topic_is_passed_over() {
    // How many published figures each topic has; a figure may stand in several rows, told apart by a letter.
    let topics = [
        ("c-fraction", 5),
        ("c-round", 1),
        ("c-shrink", 8),
        ("c-wof", 1),
        ("c-yard", 14),
        ("d-bias", 8),
        ("d-binding", 26),
        ("e-backing", 23),
        ("e-batting", 15),
        ("e-mattress", 38),
        ("e-quilt-size", 36),
        ("f-border", 12),
        ("g-precut", 21),
        ("h-metric", 4),
        ("k-area", 3),
        ("k-estimate", 3),
        ("k-yardage", 9),
    ];
    let mut found: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for row in rows() {
        let id = row[0].trim_end_matches(|letter: char| letter.is_ascii_lowercase()).to_owned();
        found.entry(row[1].to_owned()).or_default().insert(id);
    }
    let counted: Vec<(&str, usize)> = found.iter().map(|(topic, ids)| (topic.as_str(), ids.len())).collect();
    assert_eq!(counted, topics);
    for row in rows().iter().filter(|row| &row[2] == "elsewhere") {
        let list = std::fs::read_to_string(&row[6]).expect("the other list");
        assert!(list.lines().any(|line| line.contains(&row[0]) || line.contains(&row[4])), "{}", &row[0]);
    }
    let unchecked = rows().iter().filter(|row| &row[2] == "none").count();
    assert_eq!(unchecked, 17, "figures that no rule gives");
}

#[test]
fn every_figure_has_a_citation() {
    let cited: BTreeSet<String> = {
        let mut rows = csv::Reader::from_reader(include_str!("sources.csv").as_bytes());
        rows.records().map(|row| row.expect("a row")[0].to_owned()).collect()
    };
    let used: BTreeSet<String> = rows().iter().map(|row| row[7].to_owned()).collect();
    assert_eq!(used, cited);
}

#[test]
fn a_mitred_border_reaches_the_outer_edge_at_both_ends() {
    let inches = Length::from_inches;
    let seam = Length::from_eighths(2);
    let (sides, tops) =
        border::mitred(Size { width: inches(50), height: inches(60) }, inches(5), seam, inches(2));
    // 4 1/2 in of each side's 5 in show beyond the top as sewn.
    assert_eq!((sides, tops), (inches(71), inches(61)));
}

#[test]
fn what_joins_use_up_has_no_answer() {
    let inches = Length::from_inches;
    assert_eq!(strips_joined(inches(10), inches(2), inches(2)), None);
    assert_eq!(strips_joined(inches(2), inches(2), inches(2)), Some(1), "one strip needs no join");
    assert_eq!(strips_joined(Length::ZERO, inches(2), inches(1)), Some(0));
}
