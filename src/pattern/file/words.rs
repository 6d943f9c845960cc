//! The words a pattern file may use where only certain words have a meaning.

use crate::fabric::Value;
use crate::pattern::file::keys::Item;
use crate::pattern::file::source::{Source, code, did_you_mean};
use crate::pattern::layout::{Join, Set};
use crate::pattern::rules::Direction;
use crate::pattern::unit::{Corner, Method};
use crate::pattern::{Matching, Shape};

/// Kinds of unit as the file names them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum KindWord {
    Square,
    Rectangle,
    HalfSquare,
    QuarterSquare,
    Geese,
    FoldedCorners,
    SquareInSquare,
    CutOnce,
    CutTwice,
    StripSet,
    Rows,
    Free,
}

/// Words and what they mean. The first word of a meaning is the one that help names.
pub(super) type Words<T> = &'static [(&'static str, T)];

pub(super) const KINDS: Words<KindWord> = &[
    ("square", KindWord::Square),
    ("rectangle", KindWord::Rectangle),
    ("strip", KindWord::Rectangle),
    ("half-square triangles", KindWord::HalfSquare),
    ("half-square triangle", KindWord::HalfSquare),
    ("hst", KindWord::HalfSquare),
    ("quarter-square triangles", KindWord::QuarterSquare),
    ("quarter-square triangle", KindWord::QuarterSquare),
    ("qst", KindWord::QuarterSquare),
    ("flying geese", KindWord::Geese),
    ("flying goose", KindWord::Geese),
    ("folded corners", KindWord::FoldedCorners),
    ("square in a square", KindWord::SquareInSquare),
    ("triangles cut once", KindWord::CutOnce),
    ("triangles cut twice", KindWord::CutTwice),
    ("strip set", KindWord::StripSet),
    ("rows", KindWord::Rows),
    ("free", KindWord::Free),
];

pub(super) const METHODS: Words<Method> = &[
    ("two at a time", Method::TwoAtATime),
    ("four at a time", Method::FourAtATime),
    ("eight at a time", Method::EightAtATime),
    ("cut triangles", Method::CutTriangles),
    ("folded corners", Method::FoldedCorners),
];

pub(super) const MATCHING: Words<Matching> =
    &[("piece", Matching::Piece), ("block", Matching::Block), ("quilt", Matching::Quilt)];

pub(super) const SHAPES: Words<Shape> =
    &[("rectangle", Shape::Rectangle), ("cut once", Shape::CutOnce), ("cut twice", Shape::CutTwice)];

pub(super) const CORNERS: Words<Corner> = &[
    ("upper left", Corner::UpperLeft),
    ("upper right", Corner::UpperRight),
    ("lower right", Corner::LowerRight),
    ("lower left", Corner::LowerLeft),
];

pub(super) const VALUES: Words<Value> =
    &[("light", Value::Light), ("medium", Value::Medium), ("dark", Value::Dark)];

pub(super) const DIRECTIONS: Words<Direction> = &[("kept", Direction::Kept), ("free", Direction::Free)];

pub(super) const SETS: Words<Set> = &[("straight", Set::Straight), ("on point", Set::OnPoint)];

/// Whether a border's corners are mitred.
pub(super) const BORDER_CORNERS: Words<bool> = &[("butted", false), ("mitred", true), ("mitered", true)];

pub(super) const JOINS: Words<Join> = &[("straight", Join::Straight), ("diagonal", Join::Diagonal)];

/// The meaning of a text, or an error with the nearest word.
pub(super) fn word<T: Copy>(item: &Item, words: Words<T>, source: &mut Source) -> Option<T> {
    let text = item.text(source)?;
    meaning(&text, item.line, &item.field, words, source)
}

/// The meanings of a list of texts, or of one.
pub(super) fn word_list<T: Copy>(item: &Item, words: Words<T>, source: &mut Source) -> Option<Vec<T>> {
    let texts = item.texts(source)?;
    let found: Vec<T> =
        texts.iter().filter_map(|(text, line)| meaning(text, *line, &item.field, words, source)).collect();
    (found.len() == texts.len()).then_some(found)
}

fn meaning<T: Copy>(text: &str, line: u64, field: &str, words: Words<T>, source: &mut Source) -> Option<T> {
    let plain = plain(text);
    let found = words.iter().find(|(word, _)| self::plain(word) == plain);
    if found.is_none() {
        let known: Vec<&str> = words.iter().map(|&(word, _)| word).collect();
        let all = format!("use one of: {}", known.join(", "));
        let help = did_you_mean(text, known, &all);
        let message = format!("\"{text}\" is not one of the words that mean something here");
        source.error(code::UNKNOWN_WORD, line, field, message, &help);
    }
    found.map(|&(_, meaning)| meaning)
}

/// Small letters, hyphens as spaces, single spaces.
fn plain(text: &str) -> String {
    let spaced = text.to_lowercase().replace(['-', '_'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}
