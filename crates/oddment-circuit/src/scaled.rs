//! Evaluation with a power-of-two exponent beside every number, for queries whose plain evaluation
//! underflows. Slow and rare.

use crate::circuit::{ABSENT, Circuit, Step};
use crate::workspace::Workspace;

/// `mantissa * 2^exponent`, the mantissa zero or of a magnitude in [1, 2).
#[derive(Debug, Clone, Copy)]
struct Scaled {
    mantissa: f64,
    exponent: i64,
}

const NOTHING: Scaled = Scaled {
    mantissa: 0.0,
    exponent: 0,
};

/// How many powers of two a derivative may lie above the value before the value has to give way.
const HEADROOM: i64 = 1000;

impl Scaled {
    fn new(value: f64) -> Self {
        Self {
            mantissa: value,
            exponent: 0,
        }
        .normalised()
    }

    fn normalised(self) -> Self {
        if self.mantissa == 0.0 {
            return NOTHING;
        }
        let (fraction, power) = libm::frexp(self.mantissa);
        Self {
            mantissa: fraction * 2.0,
            exponent: self.exponent + i64::from(power) - 1,
        }
    }

    fn times(self, other: Self) -> Self {
        Self {
            mantissa: self.mantissa * other.mantissa,
            exponent: self.exponent + other.exponent,
        }
        .normalised()
    }

    fn plus(self, other: Self) -> Self {
        // A zero has no exponent to compare.
        if self.mantissa == 0.0 {
            return other;
        }
        if other.mantissa == 0.0 {
            return self;
        }
        let (high, low) = if self.exponent < other.exponent {
            (other, self)
        } else {
            (self, other)
        };
        let gap = (low.exponent - high.exponent).max(-2000) as i32;
        Self {
            mantissa: high.mantissa + libm::ldexp(low.mantissa, gap),
            exponent: high.exponent,
        }
        .normalised()
    }

    /// The value over two to the power `exponent`.
    fn over(self, exponent: i64) -> f64 {
        libm::ldexp(
            self.mantissa,
            (self.exponent - exponent).clamp(-3000, 3000) as i32,
        )
    }
}

/// Evaluates all lanes of one case, and their derivatives if asked; leaves in the workspace the
/// results of each lane over two to the power of an exponent of its own.
pub(crate) fn evaluate_scaled(
    circuit: &Circuit,
    workspace: &mut Workspace,
    case: usize,
    derivative: bool,
) {
    if circuit.root < circuit.first {
        // The root is itself a number or a likelihood, and nothing can underflow.
        return;
    }
    for lane in workspace.lanes_of(case) {
        let values = scaled_forward(circuit, workspace, lane);
        let root = values[circuit.root as usize];
        let adjoints = derivative.then(|| scaled_backward(circuit, &values));
        let inputs = circuit.inputs.iter().flatten().copied();
        let slots = inputs
            .filter(|slot| *slot != ABSENT)
            .chain(circuit.parameter_slots.iter().copied());
        // The value's own exponent; but an impossible value has none, and what is left once some
        // finding is withdrawn may be very much larger.
        let largest = adjoints.as_ref().and_then(|adjoints| {
            let of_slots = slots.clone().map(|slot| adjoints[slot as usize]);
            let nonzero = of_slots.filter(|adjoint| adjoint.mantissa != 0.0);
            nonzero.map(|adjoint| adjoint.exponent).max()
        });
        let exponent = match (root.mantissa != 0.0, largest) {
            (true, None) => root.exponent,
            (true, Some(largest)) => root.exponent.max(largest - HEADROOM),
            (false, largest) => largest.unwrap_or(0),
        };
        let exponent = exponent.clamp(i64::from(i32::MIN), i64::from(i32::MAX));
        for slot in slots {
            if let Some(adjoints) = &adjoints {
                workspace.store_adjoint(slot, lane, adjoints[slot as usize].over(exponent));
            }
        }
        workspace.store_value(circuit.root, lane, root.over(exponent), exponent as i32);
    }
}

fn scaled_forward(circuit: &Circuit, workspace: &Workspace, lane: usize) -> Vec<Scaled> {
    let mut slots = Vec::with_capacity(circuit.slots());
    for slot in 0..circuit.first {
        slots.push(Scaled::new(workspace.slot_value(slot, lane)));
    }
    for step in &circuit.steps {
        let value = match *step {
            Step::Multiply(a, b) => slots[a as usize].times(slots[b as usize]),
            Step::Add(a, b) => slots[a as usize].plus(slots[b as usize]),
            Step::MultiplyAdd(a, b, c) => {
                slots[c as usize].plus(slots[a as usize].times(slots[b as usize]))
            }
            Step::Sum(number) => {
                let (terms, pairs) = circuit.sum(number).unwrap_or_default();
                let terms = terms
                    .iter()
                    .fold(NOTHING, |sum, t| sum.plus(slots[*t as usize]));
                pairs.iter().fold(terms, |sum, (a, b)| {
                    sum.plus(slots[*a as usize].times(slots[*b as usize]))
                })
            }
        };
        slots.push(value);
    }
    slots
}

fn scaled_backward(circuit: &Circuit, values: &[Scaled]) -> Vec<Scaled> {
    let mut adjoints = vec![NOTHING; values.len()];
    adjoints[circuit.root as usize] = Scaled::new(1.0);
    for (place, step) in circuit.steps.iter().enumerate().rev() {
        let out = adjoints[circuit.first as usize + place];
        if out.mantissa == 0.0 {
            continue;
        }
        let product = |adjoints: &mut [Scaled], a: u32, b: u32| {
            let (a, b) = (a as usize, b as usize);
            adjoints[a] = adjoints[a].plus(out.times(values[b]));
            adjoints[b] = adjoints[b].plus(out.times(values[a]));
        };
        let term = |adjoints: &mut [Scaled], a: u32| {
            adjoints[a as usize] = adjoints[a as usize].plus(out);
        };
        match *step {
            Step::Multiply(a, b) => product(&mut adjoints, a, b),
            Step::Add(a, b) => [a, b].into_iter().for_each(|t| term(&mut adjoints, t)),
            Step::MultiplyAdd(a, b, c) => {
                term(&mut adjoints, c);
                product(&mut adjoints, a, b);
            }
            Step::Sum(number) => {
                let (terms, pairs) = circuit.sum(number).unwrap_or_default();
                terms.iter().for_each(|t| term(&mut adjoints, *t));
                pairs
                    .iter()
                    .for_each(|(a, b)| product(&mut adjoints, *a, *b));
            }
        }
    }
    adjoints
}

#[cfg(test)]
mod tests {
    use super::*;

    fn tiny(exponent: i64) -> Scaled {
        Scaled {
            mantissa: 1.5,
            exponent,
        }
    }

    #[test]
    fn a_zero_takes_nothing_from_a_number_of_any_size() {
        for exponent in [-1_000_000, -1, 0, 1, 1_000_000] {
            for sum in [
                tiny(exponent).plus(NOTHING),
                NOTHING.plus(tiny(exponent)),
                tiny(exponent).plus(tiny(exponent).times(NOTHING)),
            ] {
                assert_eq!((sum.mantissa, sum.exponent), (1.5, exponent));
            }
        }
        assert_eq!(NOTHING.plus(NOTHING).mantissa, 0.0);
    }

    #[test]
    fn sums_and_products_go_beyond_the_range_of_f64() {
        let product = tiny(-3_000).times(tiny(-4_000));
        assert_eq!((product.mantissa, product.exponent), (1.125, -6_999));
        let sum = tiny(-3_000).plus(tiny(-3_001));
        assert_eq!((sum.mantissa, sum.exponent), (1.125, -2_999));
        assert_eq!(sum.over(-2_999), 1.125);
        let difference = tiny(-3_000).plus(Scaled {
            mantissa: -1.5,
            exponent: -3_000,
        });
        assert_eq!(difference.mantissa, 0.0);
    }
}
