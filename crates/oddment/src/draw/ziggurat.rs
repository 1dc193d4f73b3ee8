//! Standard normal numbers by layers of equal area.

use rand::{Rng, RngExt};
use std::sync::LazyLock;

/// Number of layers.
const LAYERS: usize = 128;

/// Where the tail begins, and the area of each layer: G. Marsaglia and W. W. Tsang, 2000, The
/// ziggurat method for generating random variables, for 128 layers (from memory, unverified; the
/// moments and quantiles of what is drawn are tested, and that the layers close at the top).
const TAIL: f64 = 3.442_619_855_899;
const AREA: f64 = 9.912_563_035_262_17e-3;

/// Right edges of the layers, widest first, and how much of each lies under the next.
struct Layers {
    edges: [f64; LAYERS + 1],
    inside: [f64; LAYERS],
}

fn height(x: f64) -> f64 {
    libm::exp(-0.5 * x * x)
}

static TABLE: LazyLock<Layers> = LazyLock::new(|| {
    let mut edges = [0.0; LAYERS + 1];
    // The lowest layer is a rectangle of the same area as the strip and the tail together.
    edges[0] = AREA / height(TAIL);
    edges[1] = TAIL;
    for place in 2..LAYERS {
        let top = AREA / edges[place - 1] + height(edges[place - 1]);
        edges[place] = (-2.0 * libm::log(top)).sqrt();
    }
    let mut inside = [0.0; LAYERS];
    for (place, inside) in inside.iter_mut().enumerate() {
        *inside = edges[place + 1] / edges[place];
    }
    Layers { edges, inside }
});

/// A standard normal number.
pub(super) fn normal(rng: &mut impl Rng) -> f64 {
    let table = &*TABLE;
    loop {
        let bits = rng.next_u64();
        let layer = (bits % LAYERS as u64) as usize;
        // The upper 53 bits, from -1 to 1.
        let u = (bits >> 11) as f64 / (1_u64 << 52) as f64 - 1.0;
        let x = u * table.edges[layer];
        if u.abs() < table.inside[layer] {
            return x;
        }
        if layer == 0 {
            return tail(u < 0.0, rng);
        }
        let (low, high) = (height(table.edges[layer]), height(table.edges[layer + 1]));
        if low + rng.random::<f64>() * (high - low) < height(x) {
            return x;
        }
    }
}

/// A normal number beyond the last layer (Marsaglia, 1964, from memory, unverified).
fn tail(negative: bool, rng: &mut impl Rng) -> f64 {
    loop {
        let x = -libm::log(1.0 - rng.random::<f64>()) / TAIL;
        let y = -libm::log(1.0 - rng.random::<f64>());
        if 2.0 * y > x * x {
            return if negative { -(TAIL + x) } else { TAIL + x };
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_layers_close_at_the_top_with_equal_areas() {
        let edges = &TABLE.edges;
        for place in 1..LAYERS - 1 {
            let area = edges[place] * (height(edges[place + 1]) - height(edges[place]));
            assert!((area / AREA - 1.0).abs() < 1e-11, "{place}: {area}");
        }
        // The last layer reaches the height of the density at 0.
        let last = edges[LAYERS - 1];
        let area = last * (1.0 - height(last));
        assert!((area / AREA - 1.0).abs() < 1e-6, "{area}");
        // The lowest holds the strip and the tail: 0.000288... of 2.5066... on one side.
        let strip = TAIL * height(TAIL);
        let beyond = 0.5 * (std::f64::consts::PI * 2.0).sqrt() * libm::erfc(TAIL / 2.0_f64.sqrt());
        assert!(((strip + beyond) / AREA - 1.0).abs() < 1e-9);
    }

    #[test]
    fn the_tail_is_drawn_as_often_as_it_should_be() {
        use rand::SeedableRng;
        let mut rng = rand_chacha::ChaCha8Rng::seed_from_u64(3);
        let draws = 2_000_000;
        let beyond = (0..draws).filter(|_| normal(&mut rng).abs() > TAIL).count() as f64;
        let want = f64::from(draws) * libm::erfc(TAIL / 2.0_f64.sqrt());
        assert!(
            (beyond - want).abs() < 4.0 * want.sqrt(),
            "{beyond} of {want}"
        );
    }
}
