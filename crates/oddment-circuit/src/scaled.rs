//! Evaluation with a power-of-two exponent beside every number, for queries whose plain evaluation
//! underflows. Slow and rare.

use crate::circuit::{Circuit, Step};
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
        let (high, low) = if self.mantissa == 0.0 || self.exponent < other.exponent {
            (other, self)
        } else {
            (self, other)
        };
        if low.mantissa == 0.0 {
            return high;
        }
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

/// Evaluates all lanes, and their derivatives if asked; leaves in the workspace the results over
/// two to the power of the exponent that it also sets.
pub(crate) fn evaluate_scaled(circuit: &Circuit, workspace: &mut Workspace, derivative: bool) {
    let lanes = workspace.lane_count();
    let values: Vec<Vec<Scaled>> = (0..lanes)
        .map(|lane| scaled_forward(circuit, workspace, lane))
        .collect();
    let root = circuit.root as usize;
    let common = values
        .iter()
        .map(|values| values[root])
        .filter(|value| value.mantissa != 0.0)
        .map(|value| value.exponent)
        .max();
    // With every lane impossible there is nothing to scale.
    let common = common.unwrap_or(0);
    for (lane, values) in values.iter().enumerate() {
        let root_value = values[root].over(common);
        if derivative {
            let adjoints = scaled_backward(circuit, values);
            let inputs = circuit
                .inputs
                .iter()
                .flatten()
                .filter(|s| **s != crate::circuit::ABSENT);
            for slot in inputs.chain(&circuit.parameter_slots) {
                let value = workspace.slot_value(*slot, lane);
                let adjoint = adjoints[*slot as usize].over(common);
                workspace.store_scaled(*slot, lane, value, Some(adjoint));
            }
        }
        if circuit.root >= circuit.first {
            workspace.store_scaled(circuit.root, lane, root_value, None);
        }
    }
    if circuit.root >= circuit.first {
        workspace.set_exponent(common.clamp(i64::from(i32::MIN), i64::from(i32::MAX)) as i32);
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
            Step::Dot(start, end) => circuit.pairs[start as usize..end as usize]
                .iter()
                .fold(NOTHING, |sum, (a, b)| {
                    sum.plus(slots[*a as usize].times(slots[*b as usize]))
                }),
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
        let mut share = |a: u32, b: u32| {
            let (a, b) = (a as usize, b as usize);
            adjoints[a] = adjoints[a].plus(out.times(values[b]));
            adjoints[b] = adjoints[b].plus(out.times(values[a]));
        };
        match *step {
            Step::Multiply(a, b) => share(a, b),
            Step::Dot(start, end) => {
                for (a, b) in &circuit.pairs[start as usize..end as usize] {
                    share(*a, *b);
                }
            }
            Step::Add(a, b) => {
                for operand in [a, b] {
                    adjoints[operand as usize] = adjoints[operand as usize].plus(out);
                }
            }
        }
    }
    adjoints
}
