//! The requirement for a program: lengths in ticks, every field always present.

use serde_json::{Value, json};

use crate::app::need::owned::Shopping;
use crate::app::need::sizes::SizeNeed;
use crate::app::need::{Assumptions, Borders, Join, Meeting, Requirement};
use crate::app::summary::Verdict;
use crate::cutting::Layout;
use crate::length::Length;
use crate::need::{
    AtWidth, BorderNeed, BorderSide, Finish, FromCut, Need, Percent, RoleNeed, Sheets, Worked,
};
use crate::pattern::Size;
use crate::pattern::layout::Corners;

/// The whole answer.
pub(super) fn json(answer: &Requirement) -> Vec<u8> {
    let Requirement { pattern, how, need, sizes, .. } = answer;
    let whole = json!({
        "format": "cutcloth-need",
        "version": 1,
        "ticks_per_inch": Length::TICKS_PER_INCH,
        "quilt": pattern.name,
        "size": pattern.size_name(),
        "assumed": {
            "width": how.width.ticks(),
            "seam": pattern.sewing.map(|sewing| sewing.seam.ticks()),
            "squaring": how.spare.squaring.ticks(),
            "spare_percent": how.spare.percent,
            "spare_strip_over": how.spare.strip_over.map(Length::ticks),
            "step": how.step.length().ticks(),
            "borders": match how.borders {
                Borders::AsWritten => "as written",
                Borders::Crosswise => "crosswise",
                Borders::Lengthwise => "lengthwise",
            },
            "joins": how.joins,
            "corners": how.corners.map(|corners| match corners { Meeting::Butted => "butted", Meeting::Mitred => "mitred" }),
            "border_join": how.border_join.map(join),
            "directional": how.directional,
            "binding_strip": how.finish.strip_width.ticks(),
            "binding_join": join(how.finish.join),
            "binding_extra": how.finish.extra.ticks(),
            "binding_bias": how.finish.bias,
            "overage": how.finish.overage.ticks(),
            "prewashed": how.prewash.map(|wash| {
                json!({
                    "across_percent": percent(wash.lost.across),
                    "along_percent": percent(wash.lost.along),
                    "width_before": wash.width.ticks()
                })
            }),
        },
        "fabrics": need.roles.iter().map(|role| fabric(role, how)).collect::<Vec<_>>(),
        "finish": need.finish.as_ref().map(finish),
        "still_to_buy": answer.shopping.as_ref().map(|shopping| still_to_buy(answer, shopping)),
        "sizes": sizes.iter().map(|size| size_need(size, how)).collect::<Vec<_>>(),
    });
    let mut text = serde_json::to_string_pretty(&whole).expect("values of our own making");
    text.push('\n');
    text.into_bytes()
}

fn join(join: Join) -> &'static str {
    match join {
        Join::Straight => "straight",
        Join::Diagonal => "diagonal",
    }
}

/// What the stash serves, fabric by fabric, and what the rest needs.
fn still_to_buy(answer: &Requirement, shopping: &Shopping) -> Value {
    let Requirement { pattern, how, .. } = answer;
    let served = shopping.served.iter().map(|served| {
        let prints = served.prints.iter().map(|(print, pieces)| json!({"print": print, "pieces": pieces}));
        let more = shopping
            .more
            .iter()
            .find(|more| more.role == served.role)
            .map(|more| json!({"print": more.print, "pieces": more.pieces, "at": amounts(&more.rest)}));
        json!({
            "role": pattern.roles[served.role.0].name,
            "pieces": served.pieces,
            "from_stash": prints.collect::<Vec<_>>(),
            "more_of_one_print": more,
        })
    });
    json!({
        "stash": shopping.file,
        "verdict": match shopping.verdict {
            Verdict::Fits => "fits",
            Verdict::Impossible => "impossible",
            Verdict::Undecided => "undecided",
        },
        "served": served.collect::<Vec<_>>(),
        "fabrics": shopping.rest.roles.iter().map(|role| fabric(role, how)).collect::<Vec<_>>(),
    })
}

/// Null where a size has no answer under these assumptions.
fn size_need(of: &SizeNeed, how: &Assumptions) -> Value {
    let fabrics = |need: &Need| need.roles.iter().map(|role| fabric(role, how)).collect::<Vec<_>>();
    json!({
        "name": of.name,
        "finished": of.finished.map(size),
        "fabrics": of.need.as_ref().map(fabrics),
        "finish": of.need.as_ref().and_then(|need| need.finish.as_ref()).map(finish),
    })
}

fn fabric(role: &RoleNeed, how: &Assumptions) -> Value {
    let others: Vec<Value> = role
        .others
        .iter()
        .map(|(width, at)| json!({"width": width.ticks(), "at": at.as_ref().map(amounts)}))
        .collect();
    let holds: Vec<Value> = role
        .holds
        .iter()
        .map(|(amount, from)| {
            json!({"amount": amount.length.ticks(), "text": amount.show(), "from_width": from.map(Length::ticks)})
        })
        .collect();
    json!({
        "role": role.name,
        "title": role.title,
        "width": how.width.ticks(),
        "at": amounts(&role.at),
        "if_turned": role.free.as_ref().map(amounts),
        "other_widths": others,
        "borders": role.borders.iter().map(border).collect::<Vec<_>>(),
        "works_from": holds,
        "from": role.cuts.iter().map(from_cut).collect::<Vec<_>>(),
    })
}

fn border(one: &BorderNeed) -> Value {
    let side = |side: &BorderSide| {
        let joined = side.joined.map(|pair| {
            json!({"strips": pair.strips, "joins": pair.joins(), "together": pair.together, "gives": pair.gives.ticks()})
        });
        json!({"finished": side.finished.ticks(), "cut": side.cut.ticks(), "joined": joined})
    };
    json!({
        "border": one.border,
        "width": one.width.ticks(),
        "corners": match one.corners {
            Corners::Butted => "butted",
            Corners::Squares(_) => "squares",
            Corners::Mitred { .. } => "mitred",
        },
        "sides": side(&one.sides),
        "top_and_bottom": side(&one.tops),
        "joined": one.joined.map(|joined| json!({
            "strip": joined.strip.ticks(),
            "join": join(joined.join),
            "loss": joined.loss.ticks(),
            "strips": joined.strips,
            "stated": joined.stated,
            "fewest": joined.fewest,
        })),
    })
}

fn from_cut(from: &FromCut) -> Value {
    let sheets = |sheets: &Sheets| json!({"count": sheets.count, "bound": sheets.bound});
    let sets = from.sets.iter().map(|(sets, each)| json!({"sets": sets, "each": sheets(each)}));
    json!({
        "cut": from.cut.entry().name,
        "all": from.all.as_ref().map(sheets),
        "sets": sets.collect::<Vec<_>>(),
    })
}

/// Where every piece lies when the least length is cut; empty when plain strips are the best known.
fn layout(at: &AtWidth) -> Vec<Value> {
    let pieces = at.layout.as_ref().map(Layout::pieces).unwrap_or_default();
    let pieces = pieces.into_iter().map(|(piece, rect, turned)| {
        json!({
            "piece": piece,
            "x": rect.x.ticks(),
            "y": rect.y.ticks(),
            "width": rect.width.ticks(),
            "height": rect.height.ticks(),
            "turned": turned,
        })
    });
    pieces.collect()
}

fn amounts(at: &AtWidth) -> Value {
    let pieces = at.wanted.iter().map(|one| {
        json!({
            "labels": one.labels,
            "width": one.width.ticks(),
            "height": one.height.ticks(),
            "may_turn": one.turn,
            "count": one.count,
        })
    });
    let strips = at.strips.bands.iter().map(|band| {
        let gives = band.pieces.iter().map(|(size, count)| json!({"piece": size, "count": count}));
        json!({
            "depth": band.depth.ticks(),
            "used_width": band.used.ticks(),
            "times": band.times,
            "lengthwise": band.lengthwise,
            "gives": gives.collect::<Vec<_>>(),
        })
    });
    json!({
        "pieces": pieces.collect::<Vec<_>>(),
        "strips": strips.collect::<Vec<_>>(),
        "by_strips": worked(&at.by_strips),
        "at_least": worked(&at.by_least),
        "bound": at.bound.ticks(),
        "proved": at.is_proved(),
        "layout": layout(at),
    })
}

fn worked(worked: &Worked) -> Value {
    json!({
        "exact": worked.exact.ticks(),
        "spare": (worked.percent + worked.strip).ticks(),
        "squaring": worked.squaring.ticks(),
        "shrinkage": worked.shrinkage.ticks(),
        "total": worked.total.ticks(),
        "amount": worked.amount.length.ticks(),
        "text": worked.amount.show(),
    })
}

fn size(size: Size) -> Value {
    json!({"width": size.width.ticks(), "height": size.height.ticks()})
}

fn finish(finish: &Finish) -> Value {
    json!({
        "top": size(finish.top),
        "binding": finish.binding.map(|binding| json!({
            "length": binding.length.ticks(),
            "strips": binding.strips,
            "squares": binding.bias.map(|bias| json!({
                "count": bias.count,
                "side": bias.side.ticks(),
                "strips": bias.strips,
                "gives": bias.gives.ticks(),
                "at_hand": bias.at_hand.map(|(side, gives)| json!({"side": side.ticks(), "gives": gives.ticks()})),
            })),
            "amount": worked(&binding.worked),
        })),
        "backing": {
            "size": size(finish.backing),
            "width": finish.backing_width.ticks(),
            "panels": finish.panels.count,
            "panel_length": finish.panels.length.ticks(),
            "upright": finish.panels.upright,
            "amount": worked(&finish.backing_amount),
        },
        "batting": {
            "size": size(finish.batting),
            "packaged": finish.packaged.as_ref().map(|one| json!({"name": one.name, "size": size(one.size)})),
        },
        "bed": finish.covers.map(|covers| json!({
            "mattress": size(covers.bed.mattress),
            "drop": covers.bed.drop.ticks(),
            "tuck": covers.bed.tuck.ticks(),
            "shrinks_percent": [percent(covers.bed.shrinks.across), percent(covers.bed.shrinks.along)],
            "wanted": size(covers.wanted),
            "made": size(covers.made),
            "quilt": size(covers.quilt),
            "missing_width": covers.missing().0.ticks(),
            "missing_length": covers.missing().1.ticks(),
        })),
    })
}

/// A percentage as a number, made of its text.
fn percent(percent: Percent) -> Value {
    serde_json::from_str(&percent.show()).unwrap_or(Value::Null)
}
