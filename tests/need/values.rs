//! Published figures on yardage, binding, borders, backing and batting.
//!
//! `values.csv` has a figure a row: what is worked out, from which inputs, what is printed, and, where we say
//! something else, what and why. `sources.csv` has the citations.

use std::collections::BTreeSet;

use cutcloth::fabric::Cut;
use cutcloth::length::{Direction, Length, Unit, Units, parse, round};
use cutcloth::need::{Join, Spare, Step, Wanted, backing, batting, binding, border, plain, strips_joined};
use cutcloth::pattern::Size;

/// The inputs of a row.
struct Inputs<'a>(Vec<&'a str>);

impl Inputs<'_> {
    fn length(&self, index: usize) -> Length {
        parse(self.0[index], Unit::Inch, Direction::Up).expect("a length").length
    }

    fn count(&self, index: usize) -> u32 {
        self.0[index].parse().expect("a count")
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
        "metres" => Step::TenthMetre.up(of.length(0)).show(),
        "double fold" => show(binding::strip_width(of.length(0))),
        "straight strips" => binding_strips(of, Join::Straight, of.length(5)).to_string(),
        "diagonal strips" => binding_strips(of, Join::Diagonal, of.length(5)).to_string(),
        "binding yards" => {
            let strips = binding_strips(of, Join::Straight, Length::from_eighths(2));
            Step::EighthYard.up(times(of.length(3), strips)).show()
        }
        "join loss" => show(Join::Diagonal.loss(of.length(0), Length::ZERO)),
        "binding length" => show(binding::length(of.size(), of.length(2))),
        "bias length" => show(binding::bias_length(of.length(0), of.length(1))),
        "bias square" => show(binding::bias_square(of.length(0), of.length(1), of.length(2), of.length(3))),
        "bias area" => {
            let exact = binding::bias_by_area(of.length(0), of.length(1), of.length(2));
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
        "batting" => batting::size(of.size(), of.length(2)).show(Units::Inches),
        "packaged" => batting::packaged(of.size()).unwrap_or("none").to_owned(),
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

#[test]
fn published_figures_come_out_or_the_difference_has_its_reason() {
    let mut rows = csv::Reader::from_reader(include_str!("values.csv").as_bytes());
    let mut wrong = String::new();
    for row in rows.records() {
        let row = row.expect("a row");
        let inputs = Inputs(row[2].split("; ").collect());
        let (found, printed, stated, why) = (ours(&row[1], &inputs), &row[3], &row[4], &row[5]);
        let expected = if stated.is_empty() { printed } else { stated };
        if found != expected {
            wrong += &format!("{} {} of {}: {found}, expected {expected}\n", &row[0], &row[1], &row[2]);
        }
        assert!(stated.is_empty() || (stated != printed && !why.is_empty()), "{}: say why", &row[0]);
    }
    assert!(wrong.is_empty(), "\n{wrong}");
}

#[test]
fn every_figure_has_a_citation() {
    let column = |text: &str, index: usize| -> BTreeSet<String> {
        let mut rows = csv::Reader::from_reader(text.as_bytes());
        rows.records().map(|row| row.expect("a row")[index].to_owned()).collect()
    };
    let used = column(include_str!("values.csv"), 6);
    assert_eq!(used, column(include_str!("sources.csv"), 0));
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
