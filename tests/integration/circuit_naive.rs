//! Findings that share a cause are not so many witnesses: the engine beside the naive product of
//! their separate likelihood ratios.

use oddment_circuit::{Evidence, Network};
use oddment_tests::assert_close;
use oddment_tests::query::Query;

/// A claim, an act that leaves two marks, and the marks. The act is likelier if the claim is false.
const NETWORK: &str = r#"{"name": "one act, two marks", "variables": [
    {"name": "claim", "states": ["true", "false"], "table": [0.8, 0.2]},
    {"name": "act", "states": ["yes", "no"], "parents": ["claim"], "table": [0.2, 0.8, 0.7, 0.3]},
    {"name": "one", "states": ["yes", "no"], "parents": ["act"], "table": [0.9, 0.1, 0.05, 0.95]},
    {"name": "other", "states": ["yes", "no"], "parents": ["act"], "table": [0.85, 0.15, 0.1, 0.9]}]}"#;

/// P(claim is false | findings), by the engine.
fn engine(network: &Network, findings: &[(&str, usize)]) -> f64 {
    let mut evidence = Evidence::new();
    for (name, state) in findings {
        let id = network.find(name).expect("declared");
        evidence
            .observe(network, id, *state)
            .expect("a state it has");
    }
    let claim = network.find("claim").expect("declared");
    Query::new(network, &evidence)
        .posterior(claim)
        .expect("possible")[1]
}

/// The same, as if every finding spoke for itself.
fn naive(network: &Network, findings: &[(&str, usize)]) -> f64 {
    let odds = |probability: f64| probability / (1.0 - probability);
    let prior = odds(engine(network, &[]));
    let posterior = findings.iter().fold(prior, |product, finding| {
        product * odds(engine(network, &[*finding])) / prior
    });
    posterior / (1.0 + posterior)
}

#[test]
fn two_marks_of_one_act_count_for_less_than_twice() {
    let network = Network::from_json(NETWORK).expect("valid");
    // The marks; what each says of the claim, by hand: P(marks | false) / P(marks | true).
    for (marks, ratio) in [
        (
            [("one", 0), ("other", 0)],
            (0.7 * 0.9 * 0.85 + 0.3 * 0.05 * 0.1) / (0.2 * 0.9 * 0.85 + 0.8 * 0.05 * 0.1),
        ),
        (
            [("one", 1), ("other", 1)],
            (0.7 * 0.1 * 0.15 + 0.3 * 0.95 * 0.9) / (0.2 * 0.1 * 0.15 + 0.8 * 0.95 * 0.9),
        ),
    ] {
        let prior = engine(&network, &[]);
        let single = engine(&network, &marks[..1]);
        let both = engine(&network, &marks);
        let product = naive(&network, &marks);
        let odds = 0.2 / 0.8 * ratio;
        assert_close!(both, odds / (1.0 + odds), rel = 1e-14, "{marks:?}");
        // Found, they speak against the claim, and not found, for it: the second mark adds to the
        // first, but less than the product says.
        let away = |probability: f64| (probability - prior).abs();
        assert!(
            away(both) > away(single),
            "{marks:?}: {both} {single} {prior}"
        );
        assert!(
            away(product) > away(both) + 0.03,
            "{marks:?}: {product} {both} {prior}"
        );
        assert_eq!(both > prior, product > prior, "{marks:?}");
        assert_eq!(both > prior, marks[0].1 == 0, "{marks:?}");
    }
}

#[test]
fn marks_that_disagree_are_not_so_many_witnesses_either() {
    let network = Network::from_json(NETWORK).expect("valid");
    // One found and the other not: by hand, as above.
    let ratio = (0.7 * 0.9 * 0.15 + 0.3 * 0.05 * 0.9) / (0.2 * 0.9 * 0.15 + 0.8 * 0.05 * 0.9);
    let marks = [("one", 0), ("other", 1)];
    let both = engine(&network, &marks);
    let odds = 0.2 / 0.8 * ratio;
    assert_close!(both, odds / (1.0 + odds), rel = 1e-14);
    // The mark that was found means that the act took place; the other then says little. The
    // product takes it for a witness of its own and gives it too much.
    let (prior, product) = (engine(&network, &[]), naive(&network, &marks));
    assert!(both > product + 0.03, "{both} {product}");
    assert!(product > prior + 0.03, "{product} {prior}");
}

#[test]
fn once_the_act_is_known_its_marks_say_nothing_and_without_it_the_product_is_right() {
    let network = Network::from_json(NETWORK).expect("valid");
    let known = engine(&network, &[("act", 0)]);
    for marks in [[0, 0], [0, 1], [1, 0], [1, 1]] {
        let findings = [("act", 0), ("one", marks[0]), ("other", marks[1])];
        assert_close!(engine(&network, &findings), known, rel = 1e-14, "{marks:?}");
    }
    // Marks straight from the claim are as many witnesses, and then the product is exact.
    let text = NETWORK.replace(r#""parents": ["act"]"#, r#""parents": ["claim"]"#);
    let independent = Network::from_json(&text).expect("valid");
    for marks in [[0, 0], [0, 1], [1, 0], [1, 1]] {
        let findings = [("one", marks[0]), ("other", marks[1])];
        let (exact, product) = (
            engine(&independent, &findings),
            naive(&independent, &findings),
        );
        assert_close!(exact, product, rel = 1e-14, "{marks:?}");
    }
}
