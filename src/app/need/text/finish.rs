//! Binding, backing, batting and bed for reading.

use std::fmt::Write as _;

use crate::app::need::text::steps::{many, mark_down, once_washed, steps};
use crate::app::need::{Assumptions, Join, Lost};
use crate::length::{Length, Units, round};
use crate::need::batting::Package;
use crate::need::bed;
use crate::need::{BiasNeed, BindingNeed, Covers, Finish};
use crate::pattern::Size;

/// All of it.
pub(in crate::app::need) fn finishing(finish: &Finish, how: &Assumptions) -> String {
    let units = how.units;
    let mut out = format!("\nFinishing a top of {} as sewn\n", finish.top.show(units));
    match &finish.binding {
        None => out += "  binding: among the fabrics above\n",
        Some(need) => out += &binding(need, how),
    }
    out += &backing(finish, how);
    let packaged = finish.packaged.as_ref();
    let packaged = packaged.map_or("larger than any packaged size listed".to_owned(), |one| {
        format!("packaged: {}", package(one, how))
    });
    let _ =
        writeln!(out, "  batting: {}, up to whole {}; {packaged}", finish.batting.show(units), whole(how));
    if let Some(covers) = &finish.covers {
        out += &on_bed(covers, how);
    }
    out
}

fn whole(how: &Assumptions) -> &'static str {
    match how.units {
        Units::Inches => "inches",
        Units::Metric => "centimetres",
    }
}

/// Name and size of a package: `full, 81 x 96 in`.
pub(in crate::app::need) fn package(package: &Package, how: &Assumptions) -> String {
    let name = if package.name.is_empty() { String::new() } else { format!("{}, ", package.name) };
    format!("{name}{}", package.size.show(how.units))
}

fn binding(need: &BindingNeed, how: &Assumptions) -> String {
    let rules = &how.finish;
    let show = |length: Length| length.show(how.units);
    let ring = need.length - rules.extra;
    let mut out = format!(
        "  binding: {} round + {} for corners and closing = {}; ",
        show(ring),
        show(rules.extra),
        show(need.length)
    );
    match &need.bias {
        Some(bias) => out += &on_the_bias(bias, how),
        None => {
            let join = match rules.join {
                Join::Straight => "straight joins",
                Join::Diagonal => "diagonal joins, one strip width lost at each",
            };
            let strips = many(need.strips, "strip");
            let _ = write!(out, "{strips} of {} ({join}): ", show(rules.strip_width));
        }
    }
    out += &format!("{}\n", steps(&need.worked, how));
    if let Some((side, gives)) = need.bias.as_ref().and_then(|bias| bias.at_hand) {
        let (gives, side) = (mark_down(gives, how), show(side));
        let missing = need.length - bias_gives(need);
        let said = if missing > Length::ZERO {
            format!("{} too little", show(round::up(missing, how.units.finest_mark())))
        } else {
            "enough".to_owned()
        };
        let _ = writeln!(out, "    a square of {side} gives {gives}: {said}");
    }
    out
}

/// What the square at hand gives.
fn bias_gives(need: &BindingNeed) -> Length {
    need.bias.and_then(|bias| bias.at_hand).map_or(Length::ZERO, |(_, gives)| gives)
}

fn on_the_bias(bias: &BiasNeed, how: &Assumptions) -> String {
    let squares = match bias.count {
        1 => "a square".to_owned(),
        count => format!("{count} squares"),
    };
    let each = if bias.count == 1 { "" } else { " each" };
    format!(
        "on the bias, {} wide, from {squares} of {} ({} strips{each}, {} joined): ",
        how.finish.strip_width.show(how.units),
        bias.side.show(how.units),
        bias.strips,
        mark_down(bias.gives, how)
    )
}

fn backing(finish: &Finish, how: &Assumptions) -> String {
    let units = how.units;
    let mut out = format!(
        "  backing: {} (the top and {} in all), {} of {} from {} usable width{}, seams {}: {}\n",
        finish.backing.show(units),
        how.finish.overage.show(units),
        many(finish.panels.count, "panel"),
        finish.panels.length.show(units),
        finish.backing_width.show(units),
        once_washed(how),
        if finish.panels.upright { "upright" } else { "level" },
        steps(&finish.backing_amount, how)
    );
    let loss = how.finish.seam_loss.show(units);
    if finish.panels.count > 1 {
        let _ = writeln!(out, "    every seam between panels takes {loss}; nothing is added for squaring up");
    } else {
        out += "    nothing is added for squaring up: the panel is larger than the top\n";
    }
    if let Some(way) = finish.ways.iter().find(|way| **way != finish.panels) {
        let _ = writeln!(
            out,
            "    the other way: {} of {}, {}",
            many(way.count, "panel"),
            way.length.show(units),
            way.total().show(units)
        );
    }
    out
}

fn on_bed(covers: &Covers, how: &Assumptions) -> String {
    let show = |length: Length| length.show(how.units);
    let bed = &covers.bed;
    // A mattress sold by the centimetre lies on no mark of an inch ruler: what is worked out from it goes to one.
    let marked = |size: Size, toward: fn(Length, Length) -> Length| {
        let side = |side: Length| toward(side, how.units.mark());
        Size { width: side(size.width), height: side(size.height) }
    };
    let sold_in = bed::sold_in(bed.mattress);
    let mut mattress = bed.mattress.show(sold_in);
    if sold_in != how.units {
        let _ = write!(mattress, " ({})", marked(bed.mattress, round::up).show(how.units));
    }
    let mut out =
        format!("  bed: a mattress of {mattress} and {} drop at both sides and the foot", show(bed.drop));
    if bed.tuck > Length::ZERO {
        let _ = write!(out, ", {} more at the head", show(bed.tuck));
    }
    let _ = write!(out, " take a quilt of {}", marked(covers.wanted, round::up).show(how.units));
    if bed.shrinks != Lost::default() {
        let _ = write!(out, ", made {} to lose {}", covers.made.show(how.units), bed.shrinks.show());
    }
    let _ = write!(out, ";\n    this one of {} finished ", covers.quilt.show(how.units));
    let (narrow, short) = covers.missing();
    let missing: Vec<String> = [(narrow, "narrow"), (short, "short")]
        .iter()
        .filter(|(missing, _)| *missing > Length::ZERO)
        .map(|(missing, what)| format!("{} too {what}", show(*missing)))
        .collect();
    let lying = Size { height: covers.quilt.height - bed.tuck, ..covers.quilt };
    let (sides, foot) = bed::hang(lying, bed.mattress);
    let hanging = marked(Size { width: sides, height: foot }, round::down);
    let verdict = if missing.is_empty() { "large enough".to_owned() } else { missing.join(" and ") };
    // A border grows the quilt by twice its width either way.
    let half = Length::from_ticks((narrow.max(short).ticks() + 1) / 2);
    let wider = round::up(half, how.units.mark());
    let _ = write!(out, "is {verdict}");
    if !missing.is_empty() {
        let _ = write!(out, ", which borders {} wider in all would make up for", show(wider));
    }
    if sides >= Length::ZERO && foot >= Length::ZERO {
        let (sides, foot) = (show(hanging.width), show(hanging.height));
        let _ = write!(out, ": as made it hangs down {sides} at the sides, {foot} at the foot");
    }
    out + "\n"
}
