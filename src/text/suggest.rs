//! The nearest known name, for a name that is unknown.

/// The candidate closest to `wanted`, if it is close enough to be a slip of the hand:
/// at most a third of its letters differ. Ties go to the first in alphabetical order.
pub fn nearest<'a>(wanted: &str, candidates: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    // A name of absurd length comes from a broken file; comparing it with every name would take its square.
    if wanted.len() > 100 {
        return None;
    }
    let limit = (wanted.chars().count() / 3).max(1);
    candidates
        .into_iter()
        .filter(|c| c.len() <= 100 && c.chars().count().abs_diff(wanted.chars().count()) <= limit)
        .map(|c| (strsim::damerau_levenshtein(wanted, c), c))
        .filter(|(distance, _)| *distance <= limit)
        .min()
        .map(|(_, c)| c)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_is_found_and_a_stranger_is_not() {
        let known = ["plywood", "butyl-tape", "gypsum"];
        assert_eq!(nearest("plywod", known), Some("plywood"));
        assert_eq!(nearest("butly-tape", known), Some("butyl-tape"));
        assert_eq!(nearest("slate", known), None);
    }
}
