//! Borders and long sashing joined from strips across the fabric: how many strips that takes.

use std::collections::HashMap;

use itertools::Itertools;

use crate::length::Length;
use crate::pattern::layout::{Border, Join, Layout, Sashing};
use crate::pattern::setting::cut::{as_it_lies, said};
use crate::pattern::setting::{Frame, Patch, Purpose};
use crate::pattern::{RoleId, Size};

/// No quilt has more rows with long sashing between them.
const MOST_JOINED: usize = 500;

/// What strips are for, their role, their size and how many.
type Strips = (Purpose, RoleId, Size, u32);

/// The strips of everything in `patches`, which are joined.
pub(super) fn strips(layout: &Layout, patches: &[&Patch], frame: &Frame) -> Result<Vec<Strips>, String> {
    let ask = Ask { layout, patches, frame };
    let mut strips = Vec::new();
    if let Some(sashing) = &layout.sashing {
        strips.extend(ask.sashing(sashing)?);
    }
    for (index, border) in layout.borders.iter().enumerate() {
        strips.extend(ask.border(border, index + 1)?);
    }
    Ok(strips)
}

/// The length of the strips a patch is joined from, when it is.
pub(super) fn strip_length(patch: &Patch, layout: &Layout) -> Option<Length> {
    match patch.purpose {
        Purpose::BorderSide(number) | Purpose::BorderTop(number) => layout.borders[number - 1].strip,
        Purpose::Sashing => layout.sashing.as_ref().filter(|sashing| runs_through(patch, sashing))?.strip,
        _ => None,
    }
}

/// True for sashing between rows that no cornerstone interrupts.
fn runs_through(patch: &Patch, sashing: &Sashing) -> bool {
    let size = patch.size();
    sashing.cornerstones.is_none() && size.height == sashing.width && size.width > sashing.width
}

/// What is asked: the layout, its joined patches, and what they are worked out for.
struct Ask<'a> {
    layout: &'a Layout,
    patches: &'a [&'a Patch],
    frame: &'a Frame<'a>,
}

impl<'a> Ask<'a> {
    fn of(&self, purpose: Purpose) -> Vec<&'a Patch> {
        self.patches.iter().copied().filter(|patch| patch.purpose == purpose).collect()
    }

    fn sashing(&self, sashing: &Sashing) -> Result<Option<Strips>, String> {
        let Some(strip) = sashing.strip else { return Ok(None) };
        let long = self.of(Purpose::Sashing);
        if long.is_empty() {
            return Ok(None);
        }
        let size = self.strip_size(strip, sashing.width)?;
        let least = self.fewest(&long, size, sashing.join)?;
        let count = stated_or(sashing.strips, least, least, "the long sashing")?;
        Ok(Some((Purpose::Sashing, sashing.role, size, count)))
    }

    /// As patterns count them: sides for themselves, and so top and bottom; the designer may say fewer, down to the
    /// fewest for all four.
    fn border(&self, border: &Border, number: usize) -> Result<Option<Strips>, String> {
        let Some(strip) = border.strip else { return Ok(None) };
        let (sides, tops) = (self.of(Purpose::BorderSide(number)), self.of(Purpose::BorderTop(number)));
        let size = self.strip_size(strip, border.width)?;
        let usual = self.fewest(&sides, size, border.join)? + self.fewest(&tops, size, border.join)?;
        let least = self.fewest(&[sides, tops].concat(), size, border.join)?;
        let count = stated_or(border.strips, usual, least, &format!("border {number}"))?;
        Ok(Some((Purpose::BorderSide(number), border.role, size, count)))
    }

    /// The fewest strips that all patches can be cut and joined from.
    ///
    /// Patches that share strips hang together in groups. A group of k patches from s strips has at least k + s - 1
    /// lengths sewn into patches (a connected graph of k + s corners has no fewer edges), so at least s - 1 joins;
    /// joining all s end to end and cutting the patches off has just so many. So the fewest for a group are those joined
    /// end to end, and the fewest for all come from the best division into groups. (Own argument.)
    fn fewest(&self, patches: &[&Patch], strip: Size, join: Join) -> Result<u32, String> {
        let loss = join.loss(strip.height, self.frame.sewing.seam);
        if strip.width <= loss {
            return Err(format!(
                "strips of {} are used up by their joins",
                strip.width.show(self.frame.units)
            ));
        }
        if patches.len() > MOST_JOINED {
            return Err(format!("{} long strips are joined; no more than {MOST_JOINED} are", patches.len()));
        }
        let mut lengths: Vec<Length> = Vec::new();
        for patch in patches {
            let Size { width, height } = as_it_lies(patch, self.layout, self.frame)?;
            lengths.push(width.max(height));
        }
        fewest_in_groups(&lengths, strip.width, loss).ok_or_else(|| "too many strips".to_string())
    }

    /// Strips run across the fabric.
    fn strip_size(&self, strip: Length, finished: Length) -> Result<Size, String> {
        Ok(Size { width: strip, height: said(self.frame.sewing.patch(finished))? })
    }
}

/// The fewest strips over all divisions of `lengths` into groups, each joined for itself, by how many of each
/// length are left; `None` when they are too many to count.
fn fewest_in_groups(lengths: &[Length], strip: Length, loss: Length) -> Option<u32> {
    let counts = lengths.iter().copied().counts().into_iter().sorted().collect_vec();
    // Every choice of how many of each length, none first and all last; a part of a choice stands before it.
    let choices = counts.iter().map(|&(_, many)| 0..=many).multi_cartesian_product().collect_vec();
    let alone: Vec<Option<u32>> = choices
        .iter()
        .map(|group| {
            let need = group
                .iter()
                .zip(&counts)
                .map(|(&n, &(length, _))| length.checked_mul(i64::try_from(n).ok()?));
            end_to_end(need.sum::<Option<Length>>()?, strip, loss)
        })
        .collect();
    let mut fewest: HashMap<Vec<usize>, u32> = HashMap::from([(choices[0].clone(), 0)]);
    for left in &choices[1..] {
        let mut best: Option<u32> = None;
        for (group, count) in choices[1..].iter().zip(&alone[1..]) {
            let rest: Option<Vec<usize>> = left.iter().zip(group).map(|(l, g)| l.checked_sub(*g)).collect();
            let Some(rest) = rest else { continue };
            let all = (*count)?.checked_add(fewest[&rest])?;
            best = Some(best.map_or(all, |least| least.min(all)));
        }
        fewest.insert(left.clone(), best?);
    }
    fewest.get(choices.last()?).copied()
}

/// Strips joined end to end that give a length of `need`.
fn end_to_end(need: Length, strip: Length, loss: Length) -> Option<u32> {
    // A strip alone has no join, however short what is cut from it.
    let (rest, each) = ((need - loss).ticks().max(i64::from(need > Length::ZERO)), (strip - loss).ticks());
    u32::try_from(rest.div_euclid(each) + i64::from(rest % each > 0)).ok()
}

fn stated_or(stated: Option<u32>, usual: u32, least: u32, what: &str) -> Result<u32, String> {
    match stated {
        Some(stated) if stated < least => Err(format!(
            "{stated} strips are not enough for {what}: however they are joined, it takes {least}"
        )),
        Some(stated) => Ok(stated),
        None => Ok(usual),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Cuts the strips in every way: each length is sewn from parts of strips, every join costs `loss`; by trying
    /// every next part. Small whole numbers.
    fn enough(left: &mut Vec<i64>, open: i64, fresh: u32, strip: i64, loss: i64) -> bool {
        // `left[0]` is being sewn; `open` is what is left of the strip in hand.
        let Some(&now) = left.first() else { return true };
        if open >= now {
            left.remove(0);
            let done = enough(left, open - now, fresh, strip, loss)
                || (fresh > 0 && enough(left, strip, fresh - 1, strip, loss));
            left.insert(0, now);
            return done;
        }
        // The rest of the strip goes in with a join, or is left aside.
        let joined = open > loss && fresh > 0 && {
            left[0] = now - open + loss;
            let done = enough(left, strip, fresh - 1, strip, loss);
            left[0] = now;
            done
        };
        joined || (fresh > 0 && enough(left, strip, fresh - 1, strip, loss))
    }

    #[test]
    fn no_order_of_sewing_takes_fewer_strips() {
        let mut compared = 0;
        for strip in 6..=12 {
            for loss in [0, 1, 2] {
                for side in 1..=18 {
                    for top in 1..=18 {
                        let lengths = [side, side, top, top].map(Length::from_ticks);
                        let said =
                            fewest_in_groups(&lengths, Length::from_ticks(strip), Length::from_ticks(loss));
                        let by_trying = (1..).find(|&strips| {
                            let orders = [side, side, top, top].into_iter().permutations(4).unique();
                            orders.into_iter().any(|mut order| enough(&mut order, 0, strips, strip, loss))
                        });
                        assert_eq!(said, by_trying, "{side} twice, {top} twice from {strip}, {loss} a join");
                        compared += 1;
                    }
                }
            }
        }
        assert!(compared > 6_000);
    }
}
