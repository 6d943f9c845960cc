//! Edits of a file, drawn from bytes: what a slip, a bad copy, another program or malice does to it.

use arbitrary::Arbitrary;

use crate::corpus::{Corpus, WILD};

/// A file of the corpus, and what is done to it in turn.
#[derive(Arbitrary, Debug)]
pub(crate) struct Edits {
    file: u8,
    first: Edit,
    more: Vec<Edit>,
}

/// One edit. Places are taken as parts of the whole, so that any number is a place.
#[derive(Arbitrary, Debug)]
enum Edit {
    Byte {
        at: u16,
        byte: u8,
    },
    Remove {
        at: u16,
        length: u8,
    },
    Cut {
        at: u16,
    },
    Word {
        at: u16,
        word: u8,
    },
    Wild {
        at: u16,
        word: u8,
    },
    /// In place of the number, word or cell that stands there.
    Replace {
        at: u16,
        wild: bool,
        word: u8,
    },
    /// A piece of the file once more, somewhere else.
    Again {
        from: u16,
        length: u8,
        at: u16,
    },
    Swap {
        one: u16,
        other: u16,
    },
    Line {
        at: u16,
        times: u8,
    },
    /// A line of another file of the corpus.
    Foreign {
        file: u8,
        line: u16,
        at: u16,
    },
    /// Very many of one word: long cells, deep nesting, wide rows.
    Many {
        at: u16,
        word: u8,
        times: u16,
    },
}

/// No edited file grows beyond this; size by itself has its own tests.
const LARGEST: usize = 400_000;

impl Edits {
    /// The name of the file and its content after the edits.
    pub(crate) fn applied<'c>(&self, corpus: &'c Corpus) -> (&'c str, Vec<u8>) {
        let (name, content) = &corpus.files[usize::from(self.file) % corpus.files.len()];
        let mut content = content.clone();
        for edit in std::iter::once(&self.first).chain(&self.more) {
            edit.apply(&mut content, corpus);
            content.truncate(LARGEST);
        }
        (name, content)
    }
}

impl Edit {
    fn apply(&self, content: &mut Vec<u8>, corpus: &Corpus) {
        let place = |part: u16, length: usize| usize::from(part) * (length + 1) / (usize::from(u16::MAX) + 1);
        let wild = |word: u8| WILD[usize::from(word) % WILD.len()].as_bytes();
        let known = |word: u8| corpus.words[usize::from(word) % corpus.words.len()].as_bytes();
        let length = content.len();
        match *self {
            Edit::Byte { at, byte } => {
                if let Some(old) = content.get_mut(place(at, length)) {
                    *old = byte;
                }
            }
            Edit::Remove { at, length: less } => {
                let at = place(at, length);
                content.drain(at..(at + usize::from(less)).min(length));
            }
            Edit::Cut { at } => content.truncate(place(at, length)),
            Edit::Word { at, word } => put(content, place(at, length), known(word)),
            Edit::Wild { at, word } => put(content, place(at, length), wild(word)),
            Edit::Replace { at, wild: is_wild, word } => {
                let in_word = |byte: &u8| {
                    byte.is_ascii_alphanumeric() || matches!(byte, b' ' | b'/' | b'-' | b'_' | b'.')
                };
                let at = place(at, length);
                let begin =
                    content[..at].iter().rposition(|byte| !in_word(byte)).map_or(0, |before| before + 1);
                let end =
                    content[at..].iter().position(|byte| !in_word(byte)).map_or(length, |after| at + after);
                let new = if is_wild { wild(word) } else { known(word) };
                content.splice(begin..end, new.iter().copied());
            }
            Edit::Again { from, length: more, at } => {
                let from = place(from, length);
                let piece = content[from..(from + usize::from(more)).min(length)].to_vec();
                put(content, place(at, length), &piece);
            }
            Edit::Swap { one, other } => {
                let mut lines = lines(content);
                let (one, other) = (place(one, lines.len() - 1), place(other, lines.len() - 1));
                lines.swap(one, other);
                *content = lines.concat();
            }
            Edit::Line { at, times } => {
                let mut lines = lines(content);
                let at = place(at, lines.len() - 1);
                let again = vec![lines[at].clone(); usize::from(times)];
                lines.splice(at..at, again);
                *content = lines.concat();
            }
            Edit::Foreign { file, line, at } => {
                let other = lines(&corpus.files[usize::from(file) % corpus.files.len()].1);
                let line = other[place(line, other.len() - 1)].clone();
                put(content, place(at, length), &line);
            }
            Edit::Many { at, word, times } => {
                put(content, place(at, length), &wild(word).repeat(usize::from(times)))
            }
        }
    }
}

fn put(content: &mut Vec<u8>, at: usize, piece: &[u8]) {
    content.splice(at..at, piece.iter().copied());
}

/// The lines, each with its end; at least one.
fn lines(content: &[u8]) -> Vec<Vec<u8>> {
    let lines: Vec<Vec<u8>> = content.split_inclusive(|&byte| byte == b'\n').map(<[u8]>::to_vec).collect();
    if lines.is_empty() { vec![Vec::new()] } else { lines }
}
