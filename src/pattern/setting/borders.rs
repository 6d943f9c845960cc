//! Borders: sides first, then top and bottom; or corner squares; or mitred corners.

use crate::length::Length;
use crate::pattern::layout::{Border, Corners};
use crate::pattern::setting::{Patch, Point, Purpose, Top, rectangle};
use crate::pattern::{RoleId, Size};

/// Lays the borders round what there is, innermost first, and moves everything to make room.
pub(super) fn add(top: &mut Top, borders: &[Border]) {
    for (index, border) in borders.iter().enumerate() {
        shift(top, border.width);
        around(top, border, index + 1);
        let twice = border.width + border.width;
        top.size = Size { width: top.size.width + twice, height: top.size.height + twice };
    }
}

/// Moves everything right and down.
fn shift(top: &mut Top, by: Length) {
    let corners = top.patches.iter_mut().flat_map(|patch| &mut patch.corners);
    for at in corners.chain(top.blocks.iter_mut().map(|block| &mut block.at)) {
        at.x += by;
        at.y += by;
    }
}

fn around(top: &mut Top, border: &Border, number: usize) {
    let wide = border.width;
    let Size { width, height } = top.size;
    let (right, bottom) = (wide + width, wide + height);
    let (far, low) = (right + wide, bottom + wide);
    let at = |x: Length, y: Length| Point { x, y };
    let zero = Length::ZERO;
    let mut lay = |purpose: Purpose, role: RoleId, corners: Vec<Point>| {
        top.patches.push(Patch { purpose, role, corners });
    };
    let (side, end) = (Purpose::BorderSide(number), Purpose::BorderTop(number));
    if let Corners::Mitred { .. } = border.corners {
        // The inner and the outer corner of each mitre, clockwise from the upper left.
        let inner = [at(wide, wide), at(right, wide), at(right, bottom), at(wide, bottom)];
        let outer = [at(zero, zero), at(far, zero), at(far, low), at(zero, low)];
        for (purpose, from) in [(side, 3), (side, 1), (end, 0), (end, 2)] {
            let to = (from + 1) % 4;
            lay(purpose, border.role, vec![outer[from], outer[to], inner[to], inner[from]]);
        }
        return;
    }
    let flank = Size { width: wide, height };
    lay(side, border.role, rectangle(at(zero, wide), flank));
    lay(side, border.role, rectangle(at(right, wide), flank));
    if let Corners::Squares(corner) = border.corners {
        let strip = Size { width, height: wide };
        lay(end, border.role, rectangle(at(wide, zero), strip));
        lay(end, border.role, rectangle(at(wide, bottom), strip));
        for place in [at(zero, zero), at(right, zero), at(zero, bottom), at(right, bottom)] {
            lay(Purpose::BorderCornerstone(number), corner, rectangle(place, Size::square(wide)));
        }
    } else {
        let strip = Size { width: far, height: wide };
        lay(end, border.role, rectangle(at(zero, zero), strip));
        lay(end, border.role, rectangle(at(zero, bottom), strip));
    }
}
