//! How an answer of a small published network hangs on one of its numbers.
//!
//! Burglary: J. Pearl, 1988, Probabilistic Reasoning in Intelligent Systems, with the tables printed
//! in S. Russell and P. Norvig, Artificial Intelligence: A Modern Approach. The functions of one
//! number below are printed in neither: they were computed from those tables.

use oddment_circuit::{Network, Role, VariableId};
use oddment_tests::assert_close;
use oddment_tests::dual::{Dual, evidence, over_worlds};
use oddment_tests::query::Query;

/// The tables, the number given at one place of one of them; the rest of its row gives way.
fn burglary(changed: Option<(&str, usize, f64)>) -> Network {
    let table = |name: &str, mut table: Vec<f64>| {
        if let Some((_, place, value)) = changed.filter(|(of, ..)| *of == name) {
            table[place] = value;
            table[place ^ 1] = 1.0 - value;
        }
        table
    };
    let alarm = vec![0.95, 0.05, 0.94, 0.06, 0.29, 0.71, 0.001, 0.999];
    let variable = |name: &str, parents: &[&str], entries: Vec<f64>| {
        serde_json::json!({"name": name, "states": ["yes", "no"], "parents": parents,
            "table": table(name, entries)})
    };
    let file = serde_json::json!({"name": "burglary", "variables": [
        variable("B", &[], vec![0.001, 0.999]),
        variable("E", &[], vec![0.002, 0.998]),
        variable("A", &["B", "E"], alarm),
        variable("J", &["A"], vec![0.90, 0.10, 0.05, 0.95]),
        variable("M", &["A"], vec![0.70, 0.30, 0.01, 0.99])]});
    Network::from_json(&file.to_string()).unwrap_or_else(|error| panic!("{error}"))
}

fn find(network: &Network, name: &str) -> VariableId {
    network.find(name).unwrap_or_else(|error| panic!("{error}"))
}

/// Both neighbours called.
fn both_called(network: &Network) -> Vec<(VariableId, usize)> {
    vec![(find(network, "J"), 0), (find(network, "M"), 0)]
}

/// P(burglary | both called).
fn burgled(network: &Network) -> f64 {
    let query = Query::new(network, &evidence(network, &both_called(network)));
    let posterior = query.posterior(find(network, "B"));
    posterior.unwrap_or_else(|| panic!("impossible"))[0]
}

/// The same with a derivative by one number of a yes/no row, by the circuit: the joint is linear in
/// each entry, and the other entry of the row falls as the one rises.
fn slope(network: &Network, name: &str, place: usize) -> f64 {
    let id = find(network, name);
    let joint_of = |observed: &[(VariableId, usize)]| {
        let query = Query::new(network, &evidence(network, observed));
        let of = |place| {
            let parameter = query.circuit.find_parameter(id, Role::Table, place);
            parameter.map_or(0.0, |parameter| query.lane_slope(0, parameter))
        };
        Dual {
            value: query.lane_value(0),
            by: of(place) - of(place ^ 1),
        }
    };
    let mut with = both_called(network);
    let all = joint_of(&with);
    with.push((find(network, "B"), 0));
    (joint_of(&with) / all).by
}

/// The same by dual numbers through all 32 worlds.
fn slope_over_worlds(network: &Network, name: &str, place: usize) -> Dual {
    let id = find(network, name);
    let joint = |observed: &[(VariableId, usize)]| {
        let up = over_worlds(network, observed, (id, place));
        let down = over_worlds(network, observed, (id, place ^ 1));
        Dual {
            value: up.value,
            by: up.by - down.by,
        }
    };
    let mut with = both_called(network);
    let all = joint(&with);
    with.push((find(network, "B"), 0));
    joint(&with) / all
}

#[test]
fn an_answer_is_a_ratio_of_straight_lines_in_a_false_alarm() {
    for x in [0.0, 0.001, 0.01, 0.2, 0.7, 1.0] {
        let want = 0.00059224259 / (0.627612759 * x + 0.00145648748);
        let have = burgled(&burglary(Some(("A", 6, x))));
        assert_close!(have, want, rel = 1e-7, "{x}");
    }
    assert_close!(slope(&burglary(None), "A", 6), -85.576, abs = 5e-4);
}

#[test]
fn an_answer_is_a_ratio_of_straight_lines_in_a_call_without_alarm() {
    for x in [0.0, 0.01, 0.3, 1.0] {
        let want = (2.999e-6 * x + 5.922126e-4) / (0.0498741779 * x + 0.00158535846);
        let have = burgled(&burglary(Some(("M", 2, x))));
        assert_close!(have, want, rel = 1e-7, "{x}");
    }
    assert_close!(slope(&burglary(None), "M", 2), -6.799, abs = 5e-4);
}

/// H. Chan and A. Darwiche, 2002, When do numbers really matter?, JAIR 17:265-287; the bound from
/// memory: no derivative exceeds P (1 - P) / (x (1 - x)), and the prior of what is asked meets it.
#[test]
fn a_root_meets_the_bound_and_nothing_exceeds_it() {
    let network = burglary(None);
    let p = burgled(&network);
    let x = 0.001;
    let root = slope(&network, "B", 0);
    assert_close!(root, 203.622, abs = 5e-4);
    assert_close!(root, p * (1.0 - p) / (x * (1.0 - x)), rel = 1e-12);
    let numbers = [
        ("B", 0, 0.001),
        ("E", 0, 0.002),
        ("J", 0, 0.9),
        ("J", 2, 0.05),
    ];
    let more = [
        ("M", 0, 0.7),
        ("M", 2, 0.01),
        ("A", 0, 0.95),
        ("A", 2, 0.94),
    ];
    for (name, place, x) in numbers
        .into_iter()
        .chain(more)
        .chain([("A", 4, 0.29), ("A", 6, 0.001)])
    {
        let bound = p * (1.0 - p) / (x * (1.0 - x));
        let slope = slope(&network, name, place).abs();
        assert!(
            slope > 0.0 && slope <= bound * (1.0 + 1e-12),
            "{name} {place}: {slope} {bound}"
        );
    }
}

#[test]
fn no_rate_of_false_alarms_makes_a_burglary_likelier_than_not() {
    let most = (0..=1000).map(|step| burgled(&burglary(Some(("A", 6, f64::from(step) / 1000.0)))));
    let most = most.fold(0.0, f64::max);
    assert!(most < 0.4067 && most > 0.4066, "{most}");
}

#[test]
fn derivatives_are_those_of_dual_numbers_through_all_worlds() {
    let network = burglary(None);
    for (name, rows) in [("B", 1), ("E", 1), ("A", 4), ("J", 2), ("M", 2)] {
        for row in 0..rows {
            let want = slope_over_worlds(&network, name, 2 * row);
            assert_close!(want.value, burgled(&network), rel = 1e-13);
            assert_close!(
                slope(&network, name, 2 * row),
                want.by,
                rel = 1e-11,
                "{name} {row}"
            );
        }
    }
}
