//! Binding, backing and batting.

use std::fmt::Write as _;

use crate::app::need::text::steps::{many, steps};
use crate::app::need::{Assumptions, Join};
use crate::need::Finish;

/// What finishes the quilt.
pub(in crate::app::need) fn finishing(finish: &Finish, how: &Assumptions) -> String {
    let units = how.units;
    let rules = &how.finish;
    let mut out = format!("\nFinishing a top of {} as sewn\n", finish.top.show(units));
    match finish.binding {
        None => out += "  binding: among the fabrics above\n",
        Some(binding) => {
            let ring = binding.length - rules.extra;
            let _ = write!(
                out,
                "  binding: {} round + {} for corners and closing = {}; ",
                ring.show(units),
                rules.extra.show(units),
                binding.length.show(units)
            );
            match binding.square {
                Some(side) => {
                    let _ = write!(
                        out,
                        "on the bias, {} wide, from a square of {}, 2 in of it for seams; ",
                        rules.strip_width.show(units),
                        side.show(units)
                    );
                }
                None => {
                    let join = match rules.join {
                        Join::Straight => "straight joins",
                        Join::Diagonal => "diagonal joins, one strip width lost at each",
                    };
                    let _ = write!(
                        out,
                        "{} strips of {} ({join}): ",
                        binding.strips,
                        rules.strip_width.show(units)
                    );
                }
            }
            let _ = writeln!(out, "{}", steps(&binding.worked, how));
        }
    }
    let other = finish.ways.iter().find(|way| **way != finish.panels);
    let _ = writeln!(
        out,
        "  backing: {} (the top and {} in all), {} of {} from {} usable width, seams {}: {}",
        finish.backing.show(units),
        rules.overage.show(units),
        many(finish.panels.count, "panel"),
        finish.panels.length.show(units),
        finish.backing_width.show(units),
        if finish.panels.upright { "upright" } else { "level" },
        steps(&finish.backing_amount, how)
    );
    if let Some(way) = other {
        let _ = writeln!(
            out,
            "    the other way: {} of {}, {}",
            many(way.count, "panel"),
            way.length.show(units),
            way.total().show(units)
        );
    }
    let packaged = finish
        .packaged
        .map_or("larger than any packaged size listed".to_owned(), |name| format!("packaged: {name}"));
    let _ = writeln!(out, "  batting: {}, up to whole inches; {packaged}", finish.batting.show(units));
    out
}
