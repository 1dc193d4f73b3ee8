//! Globally adaptive Gauss-Kronrod quadrature (10 and 21 points) with a fixed
//! rule, a bounded number of bisections and no source of order but the numbers.

/// Stop when the two rules differ by less than this share of the total; the
/// 21-point value is then far more accurate than that.
const TOLERANCE: f64 = 1e-10;
/// Most bisections before the current value is accepted.
const MOST_SPLITS: usize = 240;

/// Positive nodes, 21-point weights and 10-point Gauss-Legendre weights (zero
/// where a node belongs to the Kronrod extension only). Computed with mpmath at
/// 60 digits: the Stieltjes polynomial of P_10 and the interpolatory weights.
pub(super) const RULE: [(f64, f64, f64); 10] = [
    (0.9956571630258081, 0.011694638867371874, 0.0),
    (
        0.9739065285171717,
        0.032558162307964725,
        0.06667134430868814,
    ),
    (0.9301574913557082, 0.054755896574351995, 0.0),
    (0.8650633666889845, 0.07503967481091996, 0.1494513491505806),
    (0.7808177265864169, 0.0931254545836976, 0.0),
    (0.6794095682990244, 0.10938715880229764, 0.21908636251598204),
    (0.5627571346686047, 0.12349197626206584, 0.0),
    (0.4333953941292472, 0.13470921731147334, 0.26926671930999635),
    (0.2943928627014602, 0.14277593857706009, 0.0),
    (
        0.14887433898163122,
        0.14773910490133849,
        0.29552422471475287,
    ),
];
/// The 21-point weight of the middle node.
pub(super) const MIDDLE: f64 = 0.1494455540029169;

struct Panel {
    low: f64,
    high: f64,
    value: f64,
    error: f64,
}

impl Panel {
    fn new(low: f64, high: f64, f: &impl Fn(f64) -> f64) -> Panel {
        let middle = 0.5 * (low + high);
        let half = 0.5 * (high - low);
        let mut fine = MIDDLE * f(middle);
        let mut coarse = 0.0;
        for (node, kronrod, gauss) in RULE {
            let pair = f(middle - half * node) + f(middle + half * node);
            fine += kronrod * pair;
            coarse += gauss * pair;
        }
        Panel {
            low,
            high,
            value: half * fine,
            error: half * (fine - coarse).abs(),
        }
    }
}

/// Integral of the non-negative `f` over `range`, cut first at `points` (any
/// order; those outside, or not numbers, are dropped).
pub(super) fn integrate(
    mut points: Vec<f64>,
    (low, high): (f64, f64),
    f: impl Fn(f64) -> f64,
) -> f64 {
    points.retain(|&p| p > low && p < high);
    points.push(low);
    points.push(high);
    crate::order::sort_numbers(&mut points);
    points.dedup();
    let mut panels: Vec<Panel> = points
        .windows(2)
        .map(|ends| Panel::new(ends[0], ends[1], &f))
        .collect();
    for _ in 0..MOST_SPLITS {
        let mut total = 0.0;
        let mut error = 0.0;
        let mut worst = 0;
        for (i, panel) in panels.iter().enumerate() {
            total += panel.value;
            error += panel.error;
            if panel.error > panels[worst].error {
                worst = i;
            }
        }
        if error <= TOLERANCE * total {
            break;
        }
        let Panel { low, high, .. } = panels[worst];
        let middle = 0.5 * (low + high);
        if !(middle > low && middle < high) {
            break;
        }
        panels[worst] = Panel::new(low, middle, &f);
        panels.push(Panel::new(middle, high, &f));
    }
    panels.iter().map(|panel| panel.value).sum()
}
