//! Putting lists in order.
//!
//! The standard sorts are compiled anew for every type and every comparison, which for the short
//! lists here is most of their cost where code has to travel. These are compiled once.

use std::cmp::Ordering;
use std::collections::{BTreeMap, BTreeSet};

/// Puts a list in order; equals stay as they stand.
pub(crate) fn sort_by<T>(list: &mut [T], compare: impl Fn(&T, &T) -> Ordering) {
    let mut places = ordered(list.len(), &|one, other| compare(&list[one], &list[other]));
    for start in 0..list.len() {
        // Each thing is where it belongs once its ring of places has been gone round.
        let mut place = start;
        loop {
            let from = std::mem::replace(&mut places[place], place);
            if from == start || from == place {
                break;
            }
            list.swap(place, from);
            place = from;
        }
    }
}

/// The places of so many things, in their order.
fn ordered(count: usize, compare: &dyn Fn(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..count).collect();
    places.sort_by(|one, other| compare(*one, *other));
    places
}

/// Puts numbers in order.
pub(crate) fn sort_numbers(numbers: &mut [f64]) {
    numbers.sort_unstable_by(f64::total_cmp);
}

/// A set of what there is.
pub(crate) fn set<T: Ord>(entries: impl IntoIterator<Item = T>) -> BTreeSet<T> {
    // Collected, they would be sorted first.
    let mut set = BTreeSet::new();
    for entry in entries {
        set.insert(entry);
    }
    set
}

/// A map of what there is; of equal keys the last counts.
pub(crate) fn map<K: Ord, V>(entries: impl IntoIterator<Item = (K, V)>) -> BTreeMap<K, V> {
    let mut map = BTreeMap::new();
    for (key, value) in entries {
        map.insert(key, value);
    }
    map
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cmp::Reverse;

    #[test]
    fn lists_come_out_as_the_standard_sort_has_them() {
        for length in 0..60_u32 {
            let mut list: Vec<(u32, u32)> = (0..length)
                .map(|n| (n.wrapping_mul(2_654_435_761) >> 29, n))
                .collect();
            let mut standard = list.clone();
            standard.sort_by_key(|(key, _)| Reverse(*key));
            sort_by(&mut list, |one, other| other.0.cmp(&one.0));
            assert_eq!(list, standard);
        }
    }
}
