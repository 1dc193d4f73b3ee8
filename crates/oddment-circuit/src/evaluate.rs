//! The two loops over the tape.

use crate::circuit::{Circuit, Step};

/// Fills the slots of these steps, which must run upward.
#[inline(always)]
pub(crate) fn forward<const W: usize>(
    circuit: &Circuit,
    places: impl Iterator<Item = usize>,
    slots: &mut [[f64; W]],
) {
    let first = circuit.first as usize;
    for place in places {
        let Some(step) = circuit.steps.get(place) else {
            return;
        };
        let (filled, rest) = slots.split_at_mut(first + place);
        let Some(out) = rest.first_mut() else { return };
        match *step {
            Step::Multiply(a, b) => {
                let (a, b) = (&filled[a as usize], &filled[b as usize]);
                for lane in 0..W {
                    out[lane] = a[lane] * b[lane];
                }
            }
            Step::Add(a, b) => {
                let (a, b) = (&filled[a as usize], &filled[b as usize]);
                for lane in 0..W {
                    out[lane] = a[lane] + b[lane];
                }
            }
            Step::MultiplyAdd(a, b, c) => {
                let (a, b) = (&filled[a as usize], &filled[b as usize]);
                let c = &filled[c as usize];
                for lane in 0..W {
                    out[lane] = c[lane] + a[lane] * b[lane];
                }
            }
            Step::Sum(number) => {
                let Some((terms, pairs)) = circuit.sum(number) else {
                    return;
                };
                let mut sum = [0.0; W];
                for term in terms {
                    let term = &filled[*term as usize];
                    for lane in 0..W {
                        sum[lane] += term[lane];
                    }
                }
                for (a, b) in pairs {
                    let (a, b) = (&filled[*a as usize], &filled[*b as usize]);
                    for lane in 0..W {
                        sum[lane] += a[lane] * b[lane];
                    }
                }
                *out = sum;
            }
        }
    }
}

/// Fills the adjoint of every slot: the derivative of the root by it.
pub(crate) fn backward<const W: usize>(
    circuit: &Circuit,
    values: &[[f64; W]],
    adjoints: &mut [[f64; W]],
) {
    let first = circuit.first as usize;
    adjoints.fill([0.0; W]);
    adjoints[circuit.root as usize] = [1.0; W];
    for (place, step) in circuit.steps.iter().enumerate().rev() {
        let (earlier, rest) = adjoints.split_at_mut(first + place);
        let Some(out) = rest.first() else { return };
        match *step {
            Step::Multiply(a, b) => share(earlier, values, out, a as usize, b as usize),
            Step::Add(a, b) => {
                pass(earlier, out, a as usize);
                pass(earlier, out, b as usize);
            }
            Step::MultiplyAdd(a, b, c) => {
                pass(earlier, out, c as usize);
                share(earlier, values, out, a as usize, b as usize);
            }
            Step::Sum(number) => {
                let Some((terms, pairs)) = circuit.sum(number) else {
                    return;
                };
                for term in terms {
                    pass(earlier, out, *term as usize);
                }
                for (a, b) in pairs {
                    share(earlier, values, out, *a as usize, *b as usize);
                }
            }
        }
    }
}

/// Passes a sum's adjoint on to a plain term.
#[inline(always)]
fn pass<const W: usize>(adjoints: &mut [[f64; W]], out: &[f64; W], term: usize) {
    let adjoint = &mut adjoints[term];
    for lane in 0..W {
        adjoint[lane] += out[lane];
    }
}

/// Passes a product's adjoint on to its two operands.
#[inline(always)]
fn share<const W: usize>(
    adjoints: &mut [[f64; W]],
    values: &[[f64; W]],
    out: &[f64; W],
    a: usize,
    b: usize,
) {
    let (value_a, value_b) = (&values[a], &values[b]);
    let adjoint = &mut adjoints[a];
    for lane in 0..W {
        adjoint[lane] += out[lane] * value_b[lane];
    }
    let adjoint = &mut adjoints[b];
    for lane in 0..W {
        adjoint[lane] += out[lane] * value_a[lane];
    }
}
