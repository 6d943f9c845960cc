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
/// Near is at most a third of the letters wrong (letters to add, drop, change or swap with their neighbour), or one inside
/// the other.
pub fn near<'c>(wanted: &str, candidates: impl IntoIterator<Item = &'c str>) -> Vec<&'c str> {
    let wanted = key(wanted);
    if wanted.is_empty() {
        return Vec::new();
    }
    let mut close: Vec<(usize, &str)> = Vec::new();
    for candidate in candidates {
        let other = key(candidate);
        let (long, lengths) = (wanted.chars().count(), other.chars().count());
        let short = long.min(lengths);
        // No word of another length can be nearer than the lengths are, and long texts are slow to compare.
        let hopeless = 3 * long.abs_diff(lengths) > short.max(3);
        let steps = if hopeless { long.max(lengths) } else { strsim::osa_distance(&wanted, &other) };
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
