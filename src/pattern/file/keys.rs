//! Tables and values of the file with their lines, and what a value must be.

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use crate::diagnostic::visible_line;
use crate::length::{Direction, Length, LengthError, Parsed, parse, parse_size};
use crate::pattern::Size;
use crate::pattern::file::source::{Source, code, did_you_mean};

/// Longest length a pattern may name: 100 yd.
pub(super) const LONGEST: Length = Length::from_inches(3600);
/// Most of anything a pattern may count: far above any quilt, far below what would fill a computer.
const MOST: u32 = 100_000;

/// A table of the file.
#[derive(Clone)]
pub(super) struct Keys<'a> {
    /// Where it is, as in `block.unit`; empty at the top.
    path: String,
    /// Line of its heading.
    pub(super) line: u64,
    table: &'a DeTable<'a>,
}

/// A value of the file.
#[derive(Clone)]
pub(super) struct Item<'a> {
    /// Line it is on.
    pub(super) line: u64,
    /// Key that leads to it, as in `block.unit.count`.
    pub(super) field: String,
    value: &'a DeValue<'a>,
}

impl<'a> Keys<'a> {
    /// The whole file.
    pub(super) fn top(table: &'a DeTable<'a>) -> Keys<'a> {
        Keys { path: String::new(), line: 1, table }
    }

    /// Reports keys that are not among `known`.
    pub(super) fn only(&self, known: &[&str], source: &mut Source) {
        for (key, line) in self.names(source) {
            if !known.contains(&key) {
                let help =
                    did_you_mean(key, known.iter().copied(), &format!("use one of: {}", known.join(", ")));
                let place =
                    if self.path.is_empty() { "here".to_string() } else { format!("in [{}]", self.path) };
                let field = self.field(key);
                source.error(
                    code::UNKNOWN_KEY,
                    line,
                    &field,
                    format!("\"{key}\" means nothing {place}"),
                    &help,
                );
            }
        }
    }

    /// Its keys with their lines, in file order.
    pub(super) fn names(&self, source: &Source) -> Vec<(&'a str, u64)> {
        let mut names: Vec<(usize, &str)> =
            self.table.keys().map(|key| (key.span().start, key.get_ref().as_ref())).collect();
        names.sort_unstable();
        names.into_iter().map(|(at, name)| (name, source.line(at))).collect()
    }

    /// The value of a key, if it is there.
    pub(super) fn get(&self, key: &str, source: &Source) -> Option<Item<'a>> {
        let (name, value) = self.table.get_key_value(key)?;
        Some(Item { line: source.line(name.span().start), field: self.field(key), value: value.get_ref() })
    }

    /// The value of a key, or an error that it is missing.
    pub(super) fn need(&self, key: &str, help: &str, source: &mut Source) -> Option<Item<'a>> {
        let found = self.get(key, source);
        if found.is_none() {
            let field = self.field(key);
            let message = format!("\"{key}\" is missing");
            source.error(code::MISSING, self.line, &field, message, help);
        }
        found
    }

    /// The tables of `[[key]]`, or the one of `[key]`.
    pub(super) fn tables(&self, key: &str, source: &mut Source) -> Vec<Keys<'a>> {
        let Some(item) = self.get(key, source) else { return Vec::new() };
        match item.value {
            DeValue::Table(table) => vec![Keys { path: item.field, line: item.line, table }],
            DeValue::Array(values) => {
                let mut tables = Vec::new();
                for value in values.iter() {
                    let line = source.line(value.span().start);
                    let each = Item { line, field: item.field.clone(), value: value.get_ref() };
                    tables.extend(each.table(source));
                }
                tables
            }
            _ => {
                item.wrong_kind("a table", source);
                Vec::new()
            }
        }
    }

    /// The text of a key, if it is there and not empty.
    pub(super) fn text(&self, key: &str, source: &mut Source) -> Option<String> {
        self.get(key, source)?.text(source)
    }

    fn field(&self, key: &str) -> String {
        if self.path.is_empty() { key.to_string() } else { format!("{}.{key}", self.path) }
    }
}

impl<'a> Item<'a> {
    /// As a table.
    pub(super) fn table(&self, source: &mut Source) -> Option<Keys<'a>> {
        match self.value {
            DeValue::Table(table) => Some(Keys { path: self.field.clone(), line: self.line, table }),
            _ => {
                self.wrong_kind("a table", source);
                None
            }
        }
    }

    /// True when it is a text.
    pub(super) fn is_text(&self) -> bool {
        self.value.is_str()
    }

    /// As a text that is not empty, with what could not be seen in it made visible. A number is taken as it is written.
    pub(super) fn text(&self, source: &mut Source) -> Option<String> {
        let text = match self.value {
            DeValue::String(text) => visible_line(text.trim()).into_owned(),
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_string(),
            DeValue::Float(number) => number.as_str().to_string(),
            _ => {
                self.wrong_kind("a text in quotes", source);
                return None;
            }
        };
        if text.is_empty() {
            let message = "the text is empty".to_string();
            source.error(
                code::MISSING,
                self.line,
                &self.field,
                message,
                "write something between the quotes",
            );
            return None;
        }
        Some(text)
    }

    /// As yes or no.
    pub(super) fn yes(&self, source: &mut Source) -> Option<bool> {
        match self.value {
            DeValue::Boolean(yes) => Some(*yes),
            _ => {
                self.wrong_kind("true or false", source);
                None
            }
        }
    }

    /// As a list of texts with their lines; a single text is a list of one.
    pub(super) fn texts(&self, source: &mut Source) -> Option<Vec<(String, u64)>> {
        let items = self.items(source);
        let texts: Vec<_> = items.iter().filter_map(|item| Some((item.text(source)?, item.line))).collect();
        if items.is_empty() {
            let message = "the list is empty".to_string();
            source.error(code::MISSING, self.line, &self.field, message, "name at least one");
        }
        (!items.is_empty() && texts.len() == items.len()).then_some(texts)
    }

    /// The values of a list; anything else is a list of one.
    pub(super) fn items(&self, source: &Source) -> Vec<Item<'a>> {
        match self.value {
            DeValue::Array(values) => values
                .iter()
                .map(|value: &'a Spanned<DeValue<'a>>| Item {
                    line: source.line(value.span().start),
                    field: self.field.clone(),
                    value: value.get_ref(),
                })
                .collect(),
            _ => vec![self.clone()],
        }
    }

    /// As a whole number from 1.
    pub(super) fn count(&self, source: &mut Source) -> Option<u32> {
        self.number(1, source)
    }

    /// As a whole number that may be 0.
    pub(super) fn count_or_none(&self, source: &mut Source) -> Option<u32> {
        self.number(0, source)
    }

    fn number(&self, least: u32, source: &mut Source) -> Option<u32> {
        let text = match self.value {
            DeValue::Integer(number) if number.radix() == 10 => number.as_str().to_string(),
            DeValue::String(text) => text.trim().to_string(),
            DeValue::Float(number) => number.as_str().to_string(),
            _ => {
                self.wrong_kind("a whole number", source);
                return None;
            }
        };
        match text.parse::<u32>() {
            Ok(count) if (least..=MOST).contains(&count) => Some(count),
            _ => {
                let message =
                    format!("{text} is not a count: expected a whole number from {least} to {MOST}");
                source.error(code::OUT_OF_RANGE, self.line, &self.field, message, "write a number such as 4");
                None
            }
        }
    }

    /// As a length of more than nothing.
    pub(super) fn length(&self, source: &mut Source) -> Option<Length> {
        let text = self.text(source)?;
        let length = self.length_of(&text, source)?;
        self.positive(length, &text, source)
    }

    /// As a length that may be nothing.
    pub(super) fn length_or_none(&self, source: &mut Source) -> Option<Length> {
        let text = self.text(source)?;
        self.length_of(&text, source)
    }

    /// As a size: `4 1/2 x 2 1/2 in`, width first, or one length for a square.
    pub(super) fn size(&self, source: &mut Source) -> Option<Size> {
        let text = self.text(source)?;
        let size = match parse_size(&text, source.unit, Direction::Up) {
            Ok((width, height)) => Size {
                width: self.accept(width, &text, source)?,
                height: self.accept(height, &text, source)?,
            },
            Err(LengthError::NotASize) => Size::square(self.length_of(&text, source)?),
            Err(error) => {
                let message = format!("\"{text}\" is not a size: {error}");
                source.error(code::NOT_A_LENGTH, self.line, &self.field, message, &error.help());
                return None;
            }
        };
        self.positive(size.width, &text, source)?;
        self.positive(size.height, &text, source)?;
        Some(size)
    }

    fn length_of(&self, text: &str, source: &mut Source) -> Option<Length> {
        match parse(text, source.unit, Direction::Up) {
            Ok(parsed) => self.accept(parsed, text, source),
            Err(error) => {
                let message = format!("\"{text}\" is not a length: {error}");
                source.error(code::NOT_A_LENGTH, self.line, &self.field, message, &error.help());
                None
            }
        }
    }

    fn accept(&self, parsed: Parsed, text: &str, source: &mut Source) -> Option<Length> {
        if parsed.length > LONGEST {
            let message = format!("{text} is longer than 100 yd");
            let help = "check the unit and the decimal point";
            source.error(code::OUT_OF_RANGE, self.line, &self.field, message, help);
            return None;
        }
        if parsed.rounded.is_some() {
            let message = format!("\"{text}\" was taken up by less than 1/8000 in to a length we can hold");
            source.note(code::ROUNDED, self.line, &self.field, message, "");
        }
        Some(parsed.length)
    }

    fn positive(&self, length: Length, text: &str, source: &mut Source) -> Option<Length> {
        if length > Length::ZERO {
            return Some(length);
        }
        let message = format!("{text} is nothing to cut");
        source.error(
            code::OUT_OF_RANGE,
            self.line,
            &self.field,
            message,
            "write a length of more than nothing",
        );
        None
    }

    fn wrong_kind(&self, expected: &str, source: &mut Source) {
        let found = match self.value {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        let message = format!("{found} is no use here: expected {expected}");
        source.error(code::WRONG_KIND, self.line, &self.field, message, &format!("write {expected}"));
    }
}
