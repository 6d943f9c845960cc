//! The reason by area, recomputed from its code alone: all pieces together against all fabric. Every other proof the
//! check can make again is one by weights, in `weighing`.

use super::fault::{Faults, Rule};
use super::record::{Record, Verdict};
use super::supply::after_truing;
use super::wanted::Wanted;
use crate::stash::Stash;

/// The code of a reason by area: all pieces together are larger than all fabric that may be used.
pub(super) const BY_AREA: &str = "area";

/// Recomputes every reason of an `impossible` verdict that can be.
pub(super) fn check(record: &Record, wanted: &Wanted, stash: &Stash, faults: &mut Faults) {
    if record.verdict != Verdict::Impossible {
        return;
    }
    for _ in record.reasons.iter().filter(|reason| reason.code == BY_AREA) {
        let (pieces, fabric) = (pieces(wanted), fabric(stash));
        if pieces <= fabric {
            let message = format!(
                "it is said not to fit by area, but the pieces need {pieces} square ticks and the fabric has {fabric}"
            );
            faults.add(Rule::Proof, "", message);
        }
    }
}

fn pieces(wanted: &Wanted) -> i128 {
    let area = |(kind, wants): (&super::wanted::PieceKind, &Vec<_>)| {
        i128::from(kind.width) * i128::from(kind.height) * i128::try_from(wants.len()).unwrap_or(i128::MAX)
    };
    wanted.pieces.iter().map(area).sum()
}

/// All sheets squared up, kept-back ones left out.
fn fabric(stash: &Stash) -> i128 {
    let lots = stash.lots.iter().filter(|lot| !lot.keep);
    lots.map(|lot| {
        let (width, length) = after_truing(lot);
        i128::from(width.max(0)) * i128::from(length.max(0)) * i128::from(lot.count)
    })
    .sum()
}
