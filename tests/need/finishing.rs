//! Binding on the bias, batting packages and beds.

use crate::answers::asked;
use crate::jobs::{framed, no_spare};
use cutcloth::app::Given;
use cutcloth::app::need::Format;
use cutcloth::length::{Length, Units};
use cutcloth::need::bed::Mattress;
use cutcloth::need::{Assumptions, Bed, Lost, Percent, batting, bias, need};
use cutcloth::pattern::Size;

const SEAM: Length = Length::from_eighths(2);
const STRIP: Length = Length::from_eighths(20);

fn inches(inches: i64) -> Length {
    Length::from_inches(inches)
}

#[test]
fn the_least_square_gives_the_length_and_the_next_smaller_does_not() {
    let mark = Length::from_eighths(1);
    for length in (20..700).step_by(17).map(inches) {
        let side = bias::square(length, STRIP, SEAM, mark);
        assert!(bias::gives(side, STRIP, SEAM) >= length);
        assert!(bias::gives(side - mark, STRIP, SEAM) < length, "{}", length.show(Units::Inches));
        assert!(bias::gives(side, STRIP, SEAM) <= bias::area_gives(side, STRIP), "areas count all fabric");
    }
}

#[test]
fn fabric_too_narrow_for_the_square_gives_several() {
    // The top is 68 1/2 in square: 284 in of binding.
    let at = |width: i64| {
        let mut how = Assumptions { joins: true, ..no_spare(inches(width)) };
        how.finish.bias = true;
        need(&framed(), &how)
            .expect("it can be worked out")
            .finish
            .expect("a layout")
            .binding
            .expect("binding")
    };
    let wide = at(42);
    let one = wide.bias.expect("on the bias");
    assert_eq!((wide.length, one.count, wide.strips), (inches(284), 1, 0));
    assert_eq!(wide.worked.exact, one.side, "one square takes as much of the fabric's length as it is wide");
    let narrow = at(20).bias.expect("on the bias");
    assert!(narrow.count > 1 && narrow.side <= inches(20), "{narrow:?}");
    assert!(narrow.gives >= inches(284) && one.gives >= inches(284));
}

#[test]
fn a_square_at_hand_is_told_with_what_it_lacks() {
    let mut how = no_spare(inches(42));
    how.finish.bias = true;
    how.finish.bias_square = Some(inches(20));
    let text = written(&how);
    // Five strips: sqrt 2 (5 x 19 + 1/2) = 135.06 in.
    assert!(text.contains("a square of 20 in gives 135 3/64 in: 148 61/64 in too little"), "{text}");
    how.finish.bias_square = Some(inches(40));
    assert!(written(&how).contains(": enough"));
}

#[test]
fn the_least_package_is_taken_turned_if_need_be() {
    let size = |width: i64, height: i64| Size { width: inches(width), height: inches(height) };
    let package = |size: Size| batting::Package { name: String::new(), size };
    let packages = [package(size(90, 108)), package(size(60, 45)), package(size(81, 96))];
    let taken = |width, height| batting::least_package(size(width, height), &packages).map(|one| one.size);
    assert_eq!(taken(45, 60), Some(size(60, 45)));
    assert_eq!(taken(96, 80), Some(size(81, 96)));
    assert_eq!(taken(82, 96), Some(size(90, 108)));
    assert_eq!(taken(109, 90), None);
}

#[test]
fn a_bed_tells_what_the_quilt_lacks_and_how_it_hangs() {
    let mut how = no_spare(inches(42));
    let mattress = Mattress::find("Twin-XL").expect("known").size();
    how.finish.bed = Some(Bed { mattress, drop: inches(12), tuck: inches(10), shrinks: Lost::default() });
    let text = written(&how);
    // 39 x 80 in with 12 in at the sides and 22 in more length are 63 x 102 in; the quilt has 68 in square.
    for part in [
        "take a quilt of 63 x 102 in",
        "this one of 68 x 68 in finished is 34 in too short, which borders 17 in wider in all would make up for\n",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    let size = Size { width: inches(40), height: inches(50) };
    how.finish.bed = Some(Bed {
        mattress: size,
        drop: inches(10),
        tuck: Length::ZERO,
        shrinks: Lost::both(Percent::whole(5)),
    });
    let text = written(&how);
    // 60 / 0.95 = 63.16 in, up to an eighth.
    for part in [
        "made 63 1/4 x 63 1/4 in to lose 5 %",
        "large enough: as made it hangs down 14 in at the sides, 18 in",
    ] {
        assert!(text.contains(part), "{part:?} is not in\n{text}");
    }
    // A measured quilt lost 2.6 % of its width and 2.2 % of its length: 60 / 0.974 = 61.60, 60 / 0.978 = 61.35 in.
    let shrinks = Lost { across: Percent::tenths(26), along: Percent::tenths(22) };
    how.finish.bed = Some(Bed { mattress: size, drop: inches(10), tuck: Length::ZERO, shrinks });
    let text = written(&how);
    let part = "made 61 5/8 x 61 3/8 in to lose 2.6 % of its width and 2.2 % of its length";
    assert!(text.contains(part), "{text}");
}

#[test]
fn a_quilt_on_point_is_measured_by_marks_of_the_ruler() {
    let text = "[role]\nA = \"a\"\nB = \"b\"\n[[block]]\nname = \"One\"\nfinished = \"5 in\"\nrows = [\"A\"]\n\
                [[block]]\nname = \"Two\"\nletter = \"t\"\nfinished = \"5 in\"\nrows = [\"B\"]\n\
                [layout]\nset = \"on point\"\nrows = [\"One One\", \"One One\"]\nbetween = [\"t\"]\nsetting = \"B\"\n";
    let text = answered(text, &no_spare(inches(42)));
    // 2 x 5 x sqrt 2 = 14.14 in and two seams, up to an eighth: 14 3/4 in.
    assert!(text.contains("Finishing a top of 14 3/4 x 14 3/4 in as sewn"), "{text}");
    assert!(text.contains("binding: 59 in round"), "{text}");
}

fn written(how: &Assumptions) -> String {
    answered(crate::jobs::FRAMED, how)
}

fn answered(pattern: &str, how: &Assumptions) -> String {
    let file = Given { name: "pattern.toml".to_owned(), bytes: pattern.as_bytes().to_vec() };
    let answer = asked(&file, how).expect("it can be worked out");
    String::from_utf8(answer.written(Format::Text)).expect("text")
}
