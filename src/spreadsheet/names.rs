//! Names people give: when two are the same, and which ones are near.

/// `name` with single spaces, none around it.
pub fn tidy(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The form in which names are compared: equal for two names that are the same.
pub fn key(name: &str) -> String {
    tidy(name).to_lowercase()
}

/// True when two names differ in case and spacing only.
pub fn same_name(one: &str, other: &str) -> bool {
    key(one) == key(other)
}

/// Up to three of `candidates` that `wanted` may be a slip for, nearest first.
///
/// Near is at most a third of the letters wrong (Levenshtein distance), or one inside the other.
pub fn near<'c>(wanted: &str, candidates: impl IntoIterator<Item = &'c str>) -> Vec<&'c str> {
    let wanted = key(wanted);
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut close: Vec<(usize, &str)> = Vec::new();
    for candidate in candidates {
        let other = key(candidate);
        let steps = distance(&wanted, &other);
        let short = wanted.chars().count().min(other.chars().count());
        let inside = short >= 3 && (wanted.contains(&other) || other.contains(&wanted));
        let known = close.iter().any(|&(_, earlier)| earlier == candidate);
        if !known && !other.is_empty() && (inside || 3 * steps <= short.max(3)) {
            close.push((steps, candidate));
        }
    }
    close.sort_by_key(|&(steps, _)| steps);
    close.into_iter().take(3).map(|(_, candidate)| candidate).collect()
}

/// `a`, `a and b`, `a, b and c`.
pub fn list(words: impl IntoIterator<Item = String>) -> String {
    let mut words: Vec<String> = words.into_iter().collect();
    match words.pop() {
        None => String::new(),
        Some(last) if words.is_empty() => last,
        Some(last) => format!("{} and {last}", words.join(", ")),
    }
}

/// Letters to add, drop or change to make one word of the other; V. I. Levenshtein's distance by the usual
/// row-by-row table.
fn distance(one: &str, other: &str) -> usize {
    let other: Vec<char> = other.chars().collect();
    let mut row: Vec<usize> = (0..=other.len()).collect();
    for (i, letter) in one.chars().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, &opposite) in other.iter().enumerate() {
            let changed = diagonal + usize::from(letter != opposite);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[other.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_are_the_same_whatever_their_case_and_spaces() {
        assert!(same_name(" Teal  Dot", "teal dot"));
        assert!(same_name("ÉCUME", "écume"));
        assert!(!same_name("teal dot", "tealdot"));
    }

    #[test]
    fn near_names_come_nearest_first() {
        let prints = ["teal dot", "rust leaf", "teal dots", "cream"];
        assert_eq!(near("teel dot", prints), ["teal dot", "teal dots"]);
        assert_eq!(near("creem", prints), ["cream"]);
        assert_eq!(near("leaf", prints), ["rust leaf"]);
        assert!(near("purple swirl", prints).is_empty());
        assert!(near("", prints).is_empty());
    }

    #[test]
    fn words_are_listed_as_one_says_them() {
        let of = |words: &[&str]| list(words.iter().map(|w| w.to_string()));
        assert_eq!((of(&[]), of(&["a"]), of(&["a", "b"])), (String::new(), "a".into(), "a and b".into()));
        assert_eq!(of(&["a", "b", "c"]), "a, b and c");
    }
}
