//! Borders: sides first, then top and bottom, or corner squares.

use crate::length::Length;
use crate::pattern::layout::Border;
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
    let mut lay = |purpose: Purpose, role: RoleId, x: Length, y: Length, size: Size| {
        top.patches.push(Patch { purpose, role, corners: rectangle(Point { x, y }, size) });
    };
    let side = Size { width: wide, height };
    lay(Purpose::BorderSide(number), border.role, Length::ZERO, wide, side);
    lay(Purpose::BorderSide(number), border.role, right, wide, side);
    match border.cornerstones {
        None => {
            let strip = Size { width: right + wide, height: wide };
            lay(Purpose::BorderTop(number), border.role, Length::ZERO, Length::ZERO, strip);
            lay(Purpose::BorderTop(number), border.role, Length::ZERO, bottom, strip);
        }
        Some(corner) => {
            let strip = Size { width, height: wide };
            lay(Purpose::BorderTop(number), border.role, wide, Length::ZERO, strip);
            lay(Purpose::BorderTop(number), border.role, wide, bottom, strip);
            for (x, y) in
                [(Length::ZERO, Length::ZERO), (right, Length::ZERO), (Length::ZERO, bottom), (right, bottom)]
            {
                lay(Purpose::BorderCornerstone(number), corner, x, y, Size::square(wide));
            }
        }
    }
}
