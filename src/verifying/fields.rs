//! Fields of a JSON object by kind: text, counts, lengths, money. What is missing or of the wrong kind is reported
//! with its path and read as nothing, so that reading goes on.

use serde_json::{Map, Number, Value};

use super::fault::{Faults, Rule};
use super::record::{LONGEST, Ticks};

/// Reads fields and gathers the faults of form.
pub(super) struct Reader {
    pub(super) faults: Faults,
}

/// An object and the path to it, such as `sheets[2].pieces[0]`.
pub(super) struct Object<'a> {
    pub(super) fields: Option<&'a Map<String, Value>>,
    pub(super) path: String,
}

impl Object<'_> {
    pub(super) fn path_to(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }
}

impl Reader {
    pub(super) fn wrong(&mut self, path: &str, found: &str) {
        self.faults.add(Rule::Field, &format!("field \"{path}\""), found.to_owned());
    }

    pub(super) fn object<'a>(&mut self, value: &'a Value, path: &str) -> Object<'a> {
        let fields = value.as_object();
        if fields.is_none() {
            self.wrong(path, "expected an object");
        }
        Object { fields, path: path.to_owned() }
    }

    /// The field, reported when missing; of something that is no object nothing more is reported.
    pub(super) fn field<'a>(&mut self, object: &Object<'a>, name: &str) -> Option<&'a Value> {
        let found = object.fields?.get(name);
        if found.is_none() {
            self.wrong(&object.path_to(name), "it is missing");
        }
        found
    }

    pub(super) fn inner<'a>(&mut self, object: &Object<'a>, name: &str) -> Object<'a> {
        let path = object.path_to(name);
        match self.field(object, name) {
            Some(value) => self.object(value, &path),
            None => Object { fields: None, path },
        }
    }

    /// An object, or nothing where null stands.
    pub(super) fn maybe_inner<'a>(&mut self, object: &Object<'a>, name: &str) -> Option<Object<'a>> {
        let value = self.field(object, name)?;
        (!value.is_null()).then(|| self.object(value, &object.path_to(name)))
    }

    pub(super) fn list<T>(
        &mut self,
        object: &Object<'_>,
        name: &str,
        read: impl Fn(&mut Reader, &Object<'_>) -> T,
    ) -> Vec<T> {
        let path = object.path_to(name);
        let Some(value) = self.field(object, name) else { return Vec::new() };
        let Some(items) = value.as_array() else {
            self.wrong(&path, "expected a list");
            return Vec::new();
        };
        let mut found = Vec::with_capacity(items.len());
        for (index, item) in items.iter().enumerate() {
            let item = self.object(item, &format!("{path}[{index}]"));
            found.push(read(self, &item));
        }
        found
    }

    pub(super) fn text(&mut self, object: &Object<'_>, name: &str) -> String {
        self.read(object, name, "a text", |value| value.as_str().map(str::to_owned)).unwrap_or_default()
    }

    pub(super) fn maybe_text(&mut self, object: &Object<'_>, name: &str) -> Option<String> {
        self.read(object, name, "a text or null", |value| match value {
            Value::Null => Some(None),
            Value::String(text) => Some(Some(text.clone())),
            _ => None,
        })
        .flatten()
    }

    pub(super) fn flag(&mut self, object: &Object<'_>, name: &str) -> bool {
        self.read(object, name, "true or false", Value::as_bool).unwrap_or_default()
    }

    pub(super) fn whole(&mut self, object: &Object<'_>, name: &str) -> i64 {
        self.read(object, name, "a whole number of at most 64 bits", Value::as_i64).unwrap_or_default()
    }

    pub(super) fn maybe_whole(&mut self, object: &Object<'_>, name: &str) -> Option<i64> {
        self.read(object, name, "a whole number of at most 64 bits, or null", |value| match value {
            Value::Null => Some(None),
            value => value.as_i64().map(Some),
        })
        .flatten()
    }

    pub(super) fn count(&mut self, object: &Object<'_>, name: &str) -> u64 {
        self.read(object, name, "a whole number from 0 to 4294967295", small_count).unwrap_or_default()
    }

    pub(super) fn maybe_count(&mut self, object: &Object<'_>, name: &str) -> Option<u64> {
        self.read(object, name, "a whole number from 0 to 4294967295, or null", |value| match value {
            Value::Null => Some(None),
            value => small_count(value).map(Some),
        })
        .flatten()
    }

    pub(super) fn numbers(&mut self, object: &Object<'_>, name: &str) -> Vec<u64> {
        self.read(object, name, "a list of whole numbers", |value| {
            value.as_array()?.iter().map(small_count).collect()
        })
        .unwrap_or_default()
    }

    pub(super) fn texts(&mut self, object: &Object<'_>, name: &str) -> Vec<String> {
        self.read(object, name, "a list of texts", |value| {
            value.as_array()?.iter().map(|text| text.as_str().map(str::to_owned)).collect()
        })
        .unwrap_or_default()
    }

    pub(super) fn weight(&mut self, object: &Object<'_>, name: &str) -> u32 {
        u32::try_from(self.count(object, name)).unwrap_or_default()
    }

    pub(super) fn length(&mut self, object: &Object<'_>, name: &str) -> Ticks {
        self.read(object, name, "a length in whole ticks, not negative, at most 2^40", |value| {
            value.as_i64().filter(|ticks| (0..=LONGEST).contains(ticks))
        })
        .unwrap_or_default()
    }

    pub(super) fn read<T>(
        &mut self,
        object: &Object<'_>,
        name: &str,
        expected: &str,
        take: impl Fn(&Value) -> Option<T>,
    ) -> Option<T> {
        let value = self.field(object, name)?;
        let taken = take(value);
        if taken.is_none() {
            let mut found = value.to_string();
            if found.chars().count() > 40 {
                found = found.chars().take(40).chain("...".chars()).collect();
            }
            self.wrong(&object.path_to(name), &format!("found {found}; expected {expected}"));
        }
        taken
    }
}

fn small_count(value: &Value) -> Option<u64> {
    value.as_u64().filter(|&number| number <= u64::from(u32::MAX))
}

/// A decimal number as whole hundredths; `None` when it has more than two decimals or an exponent.
///
/// Taken from its decimal text, so that no binary fraction comes into it.
pub(super) fn hundredths(number: &Number) -> Option<i128> {
    let text = number.to_string();
    let (sign, digits) = text.strip_prefix('-').map_or((1, text.as_str()), |rest| (-1, rest));
    let (whole, decimals) = digits.split_once('.').unwrap_or((digits, ""));
    let decimals = decimals.trim_end_matches('0');
    if decimals.len() > 2 || whole.len() > 18 {
        return None;
    }
    let whole: i128 = whole.parse().ok()?;
    let decimals: i128 = format!("{decimals:0<2}").parse().ok()?;
    Some(sign * (whole * 100 + decimals))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn money(text: &str) -> Option<i128> {
        hundredths(&serde_json::from_str(text).expect("a number"))
    }

    #[test]
    fn money_is_read_in_whole_hundredths() {
        assert_eq!(money("3.25"), Some(325));
        assert_eq!(money("3"), Some(300));
        assert_eq!(money("3.5"), Some(350));
        assert_eq!(money("0.1"), Some(10));
        assert_eq!(money("-2.05"), Some(-205));
        assert_eq!(money("3.255"), None);
        assert_eq!(money("1e300"), None);
    }
}
