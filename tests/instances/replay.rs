//! Puts the pieces of a plan back on their sheets and counts: sizes, overlap, straight cuts, copies, demand.
//! Uses nothing of the engine, and no layout tree: only where the pieces are said to lie.

use crate::format::{Instance, Objective};

/// A sheet and the pieces said to come out of it.
#[derive(Clone, Debug)]
pub(crate) struct Cut {
    pub(crate) sheet: usize,
    pub(crate) pieces: Vec<Lying>,
}

/// A piece where it lies, the sheet's lower left corner being 0, 0.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Lying {
    pub(crate) item: usize,
    pub(crate) x: i64,
    pub(crate) y: i64,
    pub(crate) w: i64,
    pub(crate) h: i64,
}

/// Profit of the pieces, or cost of the sheets; `None` where not every item that must be cut is.
///
/// # Errors
/// All that is wrong.
pub(crate) fn worth(instance: &Instance, cuts: &[Cut]) -> Result<Option<i64>, Vec<String>> {
    let mut faults = Vec::new();
    let mut cut_of = vec![0; instance.items.len()];
    let mut copies_of = vec![0; instance.sheets.len()];
    for (number, cut) in cuts.iter().enumerate() {
        let here = format!("sheet {}", number + 1);
        copies_of[cut.sheet] += 1;
        for piece in &cut.pieces {
            cut_of[piece.item] += 1;
        }
        faults.extend(sizes(instance, cut).into_iter().map(|fault| format!("{here}: {fault}")));
        if overlap(&cut.pieces) {
            faults.push(format!("{here}: two pieces overlap"));
        } else if !comes_apart(&cut.pieces) {
            faults.push(format!("{here}: no straight cut from edge to edge goes past its pieces"));
        } else if instance.stages == 2 && !in_rows(&cut.pieces) {
            faults.push(format!("{here}: rows across the width do not free its pieces in two stages"));
        }
    }
    for (sheet, &used) in copies_of.iter().enumerate() {
        if instance.sheets[sheet].copies.is_some_and(|most| used > most) {
            faults.push(format!("{used} sheets of kind {sheet} are used, more than there are"));
        }
    }
    for (item, &count) in cut_of.iter().enumerate() {
        if instance.items[item].demand.is_some_and(|most| count > most) {
            faults.push(format!("{count} of item {item} are cut, more than wanted"));
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let count = |(item, &count): (usize, &u32)| instance.items[item].profit * i64::from(count);
    Ok(match instance.objective {
        Objective::Most => Some(cut_of.iter().enumerate().map(count).sum()),
        Objective::Least => {
            let all = cut_of.iter().zip(&instance.items).all(|(&count, item)| item.demand == Some(count));
            all.then(|| cuts.iter().map(|cut| instance.sheets[cut.sheet].cost).sum())
        }
    })
}

/// Every piece has its size, turned only where it may be, and lies on the sheet.
fn sizes(instance: &Instance, cut: &Cut) -> Vec<String> {
    let sheet = &instance.sheets[cut.sheet];
    let mut faults = Vec::new();
    for piece in &cut.pieces {
        let item = &instance.items[piece.item];
        let upright = (piece.w, piece.h) == (item.w, item.h);
        let turned = item.rotatable && (piece.h, piece.w) == (item.w, item.h);
        if !upright && !turned {
            faults.push(format!("{piece:?} has not the size of its item"));
        }
        let inside =
            piece.x >= 0 && piece.y >= 0 && piece.x + piece.w <= sheet.w && piece.y + piece.h <= sheet.h;
        if !inside {
            faults.push(format!("{piece:?} is not on the sheet"));
        }
    }
    faults
}

fn overlap(pieces: &[Lying]) -> bool {
    let meet =
        |a: &Lying, b: &Lying| a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;
    (0..pieces.len()).any(|one| pieces[..one].iter().any(|other| meet(&pieces[one], other)))
}

/// Parts between which a straight cut goes: runs of intervals that touch no other run.
fn parts(pieces: &[Lying], span: impl Fn(&Lying) -> (i64, i64)) -> Vec<Vec<Lying>> {
    let mut sorted = pieces.to_vec();
    sorted.sort_by_key(|piece| span(piece));
    let mut parts: Vec<Vec<Lying>> = Vec::new();
    let mut end = i64::MIN;
    for piece in sorted {
        let (from, to) = span(&piece);
        match parts.last_mut() {
            Some(part) if from < end => part.push(piece),
            _ => parts.push(vec![piece]),
        }
        end = end.max(to);
    }
    parts
}

/// Can every piece be freed by straight cuts from edge to edge? A cut that can be made now can be made later too, so
/// the order does not matter.
fn comes_apart(pieces: &[Lying]) -> bool {
    if pieces.len() < 2 {
        return true;
    }
    let columns = parts(pieces, |piece| (piece.x, piece.x + piece.w));
    let parts = if columns.len() > 1 { columns } else { parts(pieces, |piece| (piece.y, piece.y + piece.h)) };
    parts.len() > 1 && parts.iter().all(|part| comes_apart(part))
}

/// Rows across the width, pieces side by side in each, and one more cut that trims a piece to its height.
fn in_rows(pieces: &[Lying]) -> bool {
    parts(pieces, |piece| (piece.y, piece.y + piece.h)).iter().all(|row| {
        let bottom = row.iter().map(|piece| piece.y).min();
        let top = row.iter().map(|piece| piece.y + piece.h).max();
        let trimmed = |piece: &Lying| Some(piece.y) == bottom || Some(piece.y + piece.h) == top;
        row.iter().all(trimmed)
            && parts(row, |piece| (piece.x, piece.x + piece.w)).iter().all(|column| column.len() == 1)
    })
}

#[cfg(test)]
mod tests {
    use super::{Cut, Lying, worth};
    use crate::format::{Instance, Item, Objective, Stock};

    /// A 6 x 5 sheet, at most two of it; three 3 x 2 that may turn, and one 2 x 1 that may not.
    fn small(objective: Objective, stages: u32) -> Instance {
        let item = |w, h, demand, profit, rotatable| Item { w, h, demand, profit, rotatable, group: None };
        Instance {
            id: "small".into(),
            objective,
            stages,
            sheets: vec![Stock { w: 6, h: 5, copies: Some(2), cost: 7 }],
            items: vec![item(3, 2, Some(3), 5, true), item(2, 1, Some(1), 4, false)],
            best_known: None,
            proven: false,
        }
    }

    fn lying(item: usize, x: i64, y: i64, w: i64, h: i64) -> Lying {
        Lying { item, x, y, w, h }
    }

    /// Two 3 x 2 side by side, above them one turned, and the small one beside it.
    fn good() -> Vec<Cut> {
        let pieces =
            vec![lying(0, 0, 0, 3, 2), lying(0, 3, 0, 3, 2), lying(0, 0, 2, 2, 3), lying(1, 2, 2, 2, 1)];
        vec![Cut { sheet: 0, pieces }]
    }

    fn fault(instance: &Instance, cuts: &[Cut], says: &str) {
        let faults = worth(instance, cuts).expect_err(says);
        assert!(faults.iter().any(|fault| fault.contains(says)), "{says}: {faults:?}");
    }

    #[test]
    fn a_good_plan_is_worth_its_profit_or_its_sheets() {
        assert_eq!(worth(&small(Objective::Most, 0), &good()), Ok(Some(19)));
        assert_eq!(worth(&small(Objective::Least, 0), &good()), Ok(Some(7)));
        assert_eq!(worth(&small(Objective::Most, 2), &good()), Ok(Some(19)));
    }

    #[test]
    fn a_piece_left_out_is_less_profit_and_no_plan_for_everything() {
        let mut cuts = good();
        cuts[0].pieces.pop();
        assert_eq!(worth(&small(Objective::Most, 0), &cuts), Ok(Some(15)));
        assert_eq!(worth(&small(Objective::Least, 0), &cuts), Ok(None));
    }

    #[test]
    fn each_way_of_breaking_it_is_found() {
        let most = small(Objective::Most, 0);
        let broken = |change: &dyn Fn(&mut Vec<Cut>)| {
            let mut cuts = good();
            change(&mut cuts);
            cuts
        };
        fault(&most, &broken(&|cuts| cuts[0].pieces[3].x = 5), "not on the sheet");
        fault(&most, &broken(&|cuts| cuts[0].pieces[3].x = -1), "not on the sheet");
        fault(&most, &broken(&|cuts| cuts[0].pieces[2].y = 1), "overlap");
        fault(&most, &broken(&|cuts| cuts[0].pieces[0].w = 2), "size of its item");
        fault(&most, &broken(&|cuts| cuts[0].pieces[3] = lying(1, 2, 2, 1, 2)), "size of its item");
        fault(&most, &broken(&|cuts| cuts[0].pieces.push(lying(1, 4, 2, 2, 1))), "more than wanted");
        let two_more = |cuts: &mut Vec<Cut>| cuts.extend(vec![Cut { sheet: 0, pieces: Vec::new() }; 2]);
        fault(&most, &broken(&two_more), "more than there are");
        // The small one in the second row, above another piece of it: a third stage.
        let third = broken(&|cuts| {
            cuts[0].pieces = vec![lying(0, 0, 0, 2, 3), lying(1, 2, 0, 2, 1), lying(0, 2, 1, 3, 2)];
        });
        assert_eq!(worth(&most, &third), Ok(Some(14)));
        fault(&small(Objective::Most, 2), &third, "two stages");
    }

    #[test]
    fn a_pinwheel_does_not_come_apart() {
        let mut instance = small(Objective::Most, 0);
        instance.items[0].demand = Some(4);
        let pieces =
            vec![lying(0, 0, 0, 3, 2), lying(0, 3, 0, 2, 3), lying(0, 2, 3, 3, 2), lying(0, 0, 2, 2, 3)];
        fault(&instance, &[Cut { sheet: 0, pieces }], "no straight cut");
    }
}
