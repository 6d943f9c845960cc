//! Patchwork to scale: every patch in its colour, with the letters of its print so that it reads in grey.

use super::px;
use crate::pattern::setting::Point;
use crate::report::markup::Markup;
use crate::report::paint::Ink;
use crate::report::view::patchwork::Patchwork;

/// Sizes of type, the best first; the last is six points, the least that can be read at arm's length.
const SIZES: [i64; 4] = [1300, 1100, 950, 800];
/// Room for the outer line.
const RIM: i64 = 150;

/// How large a patchwork is drawn.
#[derive(Clone, Copy)]
pub(crate) struct Room {
    /// The most it may take across, in hundredths of a pixel.
    pub(crate) width: i64,
    /// The most it may take down.
    pub(crate) height: i64,
}

impl Room {
    /// A square.
    pub(crate) const fn square(side: i64) -> Room {
        Room { width: side, height: side }
    }
}

/// Ticks to hundredths of a pixel.
struct Scale {
    numerator: i128,
    denominator: i128,
}

impl Scale {
    fn of(drawing: &Patchwork, room: Room) -> Scale {
        let (width, height) = (drawing.size.width.ticks().max(1), drawing.size.height.ticks().max(1));
        let (across, down) = (room.width - 2 * RIM, room.height - 2 * RIM);
        let (width, height) = (i128::from(width), i128::from(height));
        let (across, down) = (i128::from(across), i128::from(down));
        if across * height <= down * width {
            Scale { numerator: across, denominator: width }
        } else {
            Scale { numerator: down, denominator: height }
        }
    }

    fn length(&self, ticks: i64) -> i64 {
        i64::try_from(i128::from(ticks) * self.numerator / self.denominator).unwrap_or(0)
    }

    fn corners(&self, corners: &[Point]) -> Vec<(i64, i64)> {
        corners.iter().map(|at| (RIM + self.length(at.x.ticks()), RIM + self.length(at.y.ticks()))).collect()
    }
}

/// True when the letters of every patch fit into it.
pub(crate) fn all_lettered(drawing: &Patchwork, room: Room) -> bool {
    let scale = Scale::of(drawing, room);
    drawing.patches.iter().all(|patch| lettering(&scale.corners(&patch.corners), &patch.letters).is_some())
}

/// Writes the drawing as large as there is room.
pub(crate) fn draw(out: &mut Markup, drawing: &Patchwork, room: Room) {
    inked(out, drawing, room, Ink::Color, true);
}

/// Writes the drawing without letters, where it is small.
pub(crate) fn draw_plain(out: &mut Markup, drawing: &Patchwork, room: Room) {
    inked(out, drawing, room, Ink::Color, false);
}

/// Writes the drawing in grey, without letters, as one sees it who squints.
pub(crate) fn draw_grey(out: &mut Markup, drawing: &Patchwork, room: Room) {
    inked(out, drawing, room, Ink::Grey, false);
}

fn inked(out: &mut Markup, drawing: &Patchwork, room: Room, ink: Ink, lettered: bool) {
    let (width, height) = size(drawing, room);
    let attributes = [
        ("xmlns", "http://www.w3.org/2000/svg"),
        ("class", "patchwork"),
        ("role", "img"),
        ("viewBox", &format!("0 0 {} {}", px(width), px(height))),
        ("width", &px(width)),
        ("height", &px(height)),
    ];
    out.element("svg", &attributes, |out| {
        out.leaf("title", &[], &title(drawing, ink));
        fill(out, drawing, room, ink);
        if lettered {
            letters(out, drawing, &Scale::of(drawing, room));
        }
    });
}

/// Width and height of the drawing, in hundredths of a pixel.
pub(super) fn size(drawing: &Patchwork, room: Room) -> (i64, i64) {
    let scale = Scale::of(drawing, room);
    let whole = |ticks| scale.length(ticks) + 2 * RIM;
    (whole(drawing.size.width.ticks()), whole(drawing.size.height.ticks()))
}

/// The patches and outlines, and in colour the letters.
pub(super) fn shapes(out: &mut Markup, drawing: &Patchwork, room: Room, ink: Ink) {
    fill(out, drawing, room, ink);
    if ink == Ink::Color {
        letters(out, drawing, &Scale::of(drawing, room));
    }
}

fn fill(out: &mut Markup, drawing: &Patchwork, room: Room, ink: Ink) {
    let scale = Scale::of(drawing, room);
    out.element("g", &[("stroke", "#000"), ("stroke-width", "0.5"), ("stroke-linejoin", "round")], |out| {
        for patch in &drawing.patches {
            let path = path(&scale.corners(&patch.corners));
            out.empty("path", &[("d", &path), ("fill", patch.paint.fill(ink))]);
        }
    });
    out.element("g", &[("stroke", "#000"), ("stroke-width", "2"), ("fill", "none")], |out| {
        for outline in &drawing.outlines {
            out.empty("path", &[("d", &path(&scale.corners(outline)))]);
        }
    });
}

fn title(drawing: &Patchwork, ink: Ink) -> String {
    match ink {
        Ink::Color => drawing.title.clone(),
        Ink::Grey => format!("{}, in grey", drawing.title),
    }
}

fn letters(out: &mut Markup, drawing: &Patchwork, scale: &Scale) {
    // The white rim lets black letters stand on any colour, also on a dark one in grey.
    let type_face = [
        ("font-family", "Arial, 'Liberation Sans', Helvetica, sans-serif"),
        ("font-weight", "700"),
        ("text-anchor", "middle"),
        ("fill", "#000"),
        ("stroke", "#fff"),
        ("stroke-width", "2.2"),
        ("stroke-linejoin", "round"),
        ("paint-order", "stroke"),
    ];
    out.element("g", &type_face, |out| {
        for patch in &drawing.patches {
            let Some(found) = lettering(&scale.corners(&patch.corners), &patch.letters) else { continue };
            let (x, y, size) = (px(found.x), px(found.y), px(found.size));
            let turn = format!("rotate(-90 {x} {y})");
            let mut attributes =
                vec![("x", x.as_str()), ("y", y.as_str()), ("dy", ".36em"), ("font-size", size.as_str())];
            if found.turned {
                attributes.push(("transform", turn.as_str()));
            }
            if !patch.letters.is_empty() {
                out.leaf("text", &attributes, &patch.letters);
            }
        }
    });
}

/// Where letters stand, about their middle.
struct Lettering {
    x: i64,
    y: i64,
    size: i64,
    turned: bool,
}

/// The largest letters that lie wholly within a patch, about the middle of its corners; turned where they fit in no
/// other way, as in a narrow strip that runs down.
fn lettering(corners: &[(i64, i64)], letters: &str) -> Option<Lettering> {
    let count = i64::try_from(corners.len()).ok().filter(|&count| count > 2)?;
    let x = corners.iter().map(|corner| corner.0).sum::<i64>() / count;
    let y = corners.iter().map(|corner| corner.1).sum::<i64>() / count;
    let number = i64::try_from(letters.chars().count()).ok()?;
    let fits = |&(size, turned): &(i64, bool)| {
        // Bold type takes up to eight tenths of its size a letter, and its rim a pixel.
        let (long, high) = (number * size * 39 / 100 + 100, size * 38 / 100 + 50);
        let (wide, high) = if turned { (high, long) } else { (long, high) };
        [(-1, -1), (1, -1), (1, 1), (-1, 1)]
            .iter()
            .all(|(right, down)| inside(corners, (x + right * wide, y + down * high)))
    };
    let upright = SIZES.into_iter().map(|size| (size, false));
    let (size, turned) = upright.chain(SIZES.into_iter().map(|size| (size, true))).find(fits)?;
    Some(Lettering { x, y, size, turned })
}

/// True when a point lies in a convex patch: on the same side of every edge, or on it.
fn inside(corners: &[(i64, i64)], point: (i64, i64)) -> bool {
    let next = corners.iter().cycle().skip(1);
    let sides = corners.iter().zip(next).map(|(from, to)| {
        let across = i128::from(to.0 - from.0) * i128::from(point.1 - from.1);
        across - i128::from(to.1 - from.1) * i128::from(point.0 - from.0)
    });
    let sides: Vec<i128> = sides.collect();
    sides.iter().all(|&side| side >= 0) || sides.iter().all(|&side| side <= 0)
}

fn path(corners: &[(i64, i64)]) -> String {
    let mut path = String::new();
    for (index, (x, y)) in corners.iter().enumerate() {
        path.push_str(&format!("{}{} {}", if index == 0 { "M" } else { "L" }, px(*x), px(*y)));
    }
    path.push('Z');
    path
}

#[cfg(test)]
mod tests {
    use super::{inside, lettering};

    #[test]
    fn letters_shrink_to_fit_and_vanish_where_they_do_not() {
        let square = |side: i64| [(0, 0), (side, 0), (side, side), (0, side)];
        assert_eq!(lettering(&square(4000), "Us").map(|found| found.size), Some(1300));
        assert_eq!(lettering(&square(1500), "Us").map(|found| found.size), Some(800));
        assert!(lettering(&square(900), "Us").is_none());
        let strip = [(0, 0), (900, 0), (900, 4000), (0, 4000)];
        assert!(lettering(&strip, "Us").is_some_and(|found| found.turned));
        // In a triangle they stand about its middle, a third of the way up.
        let triangle = [(0, 0), (3600, 0), (0, 3600)];
        let found = lettering(&triangle, "Us").expect("there is room");
        assert_eq!((found.x, found.y), (1200, 1200));
    }

    #[test]
    fn a_point_is_inside_whichever_way_the_corners_go_round() {
        let mut triangle = vec![(0, 0), (10, 0), (0, 10)];
        assert!(inside(&triangle, (3, 3)) && !inside(&triangle, (6, 6)));
        triangle.reverse();
        assert!(inside(&triangle, (3, 3)) && !inside(&triangle, (6, 6)));
    }
}
