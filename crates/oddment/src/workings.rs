//! A case as a function of the pack's numbers: evaluated for any values of them, and differentiated
//! by all of them at once.

use crate::case::Case;
use crate::density::Density;
use crate::error::Error;
use crate::evidence::{Item, Likelihoods};
use crate::examination::{expected_density, instrument_factor, poor_in, report_in, reported};
use crate::formula::{ABREAST, Dependence, FormulaId, Formulas};
use crate::model::Model;
use crate::pack::{Domain, Expectation, NumberId, Pack};
use crate::prior::prior_weights;
use crate::rough::rough_likelihood;
use crate::spread::Spreads;
use oddment_circuit::{Role, Workspace};
use std::collections::BTreeMap;

#[cfg(test)]
mod tests;

/// Everything about a case that does not change with the numbers; shared between threads.
#[derive(Debug)]
pub(crate) struct Workings<'a> {
    pub pack: &'a Pack,
    pub case: &'a Case,
    pub model: &'a Model,
    pub spreads: Spreads,
    likelihoods: Likelihoods,
    formulas: Formulas,
    /// For each item: by quality, one formula for each level; nothing for readings.
    reports: Vec<[Vec<FormulaId>; 2]>,
    /// For each visit that says something.
    poor: Vec<FormulaId>,
    priors: Vec<FormulaId>,
    /// For each item that is a reading.
    readings: Vec<Option<MovedReading>>,
    /// The items at each leaf or measure that something is reported of.
    places: Vec<Vec<usize>>,
    /// The numbers that can make a difference, in order.
    numbers: Vec<NumberId>,
    /// For each formula the factors of the case's polynomial it is an entry of.
    factors: Vec<Vec<u32>>,
    /// The values of all formulas with the case's own numbers.
    start: Vec<f64>,
}

/// How one reading's likelihoods follow from the shifts and stretches of its expectations.
#[derive(Debug)]
struct MovedReading {
    /// The expectations that differ, each with the number that moves it.
    moves: Vec<Move>,
    /// For each entry of the likelihood vector, which of them it is of.
    entries: Vec<usize>,
}

#[derive(Debug)]
struct Move {
    number: NumberId,
    domain: Domain,
    density: Density,
    /// By quality: the error, and the rough likelihood with nothing moved.
    errors: [f64; 2],
    unmoved: [f64; 2],
    /// By quality: values of the number and the logarithm of how much the likelihood is changed.
    table: [Vec<f64>; 2],
    grid: (f64, f64),
}

/// Points of the grid on which a moved reading's likelihood is tabulated.
const GRID: usize = 33;

/// Buffers for one thread.
#[derive(Debug, Clone)]
pub(crate) struct Desk {
    workspace: Workspace,
    values: Vec<f64>,
    /// For each entry of the model the value that the workspace holds; NaN, which nothing equals,
    /// for none yet.
    held: Vec<f64>,
    likelihoods: Vec<[Vec<f64>; 2]>,
    chances: Vec<f64>,
    /// By what the likelihoods of one reading are multiplied.
    factors: Vec<f64>,
    side_by_side: Vec<[f64; ABREAST]>,
}

/// The joint of each verdict with the evidence, and its derivative by every number.
#[derive(Debug, Clone)]
pub(crate) struct Slopes {
    pub joint: [f64; 4],
    pub by: [Vec<f64>; 4],
    /// The derivatives by the formulas that are entries of the case's polynomial.
    by_entry: [Vec<f64>; 4],
    /// The derivatives by what the readings' likelihoods are multiplied with: for each item that is
    /// a reading, by move and quality.
    by_move: [Vec<Vec<[f64; 2]>>; 4],
}

impl Move {
    fn new(workings: (&Pack, &Case, &Spreads), of: (usize, &Expectation)) -> Self {
        let (pack, case, spreads) = workings;
        let (reading, expectation) = of;
        let reading = &case.readings[reading];
        let measure = &pack.measures[reading.measure];
        let numbers = &case.numbers;
        let density = expected_density(case, pack, numbers, measure, expectation);
        let errors =
            [false, true].map(|poor| reading.error * instrument_factor(pack, numbers, poor));
        let id = expectation.moved;
        let unmoved = errors.map(|error| rough_likelihood(&density, reading, error));
        let mut of = Self {
            number: id,
            domain: pack.numbers[id.index()].domain,
            density,
            errors,
            unmoved,
            table: [Vec::new(), Vec::new()],
            grid: (0.0, 0.0),
        };
        // Half as far again as the 90 % range on either side.
        let value = numbers[id.index()];
        let (low, high) = spreads.range(pack, id, numbers);
        of.grid = match of.domain {
            Domain::Stretch => {
                let (low, high) = (libm::log(low / value), libm::log(high / value));
                (3.0 * low, 3.0 * high)
            }
            _ => (3.0 * (low - value), 3.0 * (high - value)),
        };
        let (from, to) = of.grid;
        for quality in 0..2 {
            of.table[quality] = (0..GRID)
                .map(|place| {
                    let at = from + (to - from) * place as f64 / (GRID - 1) as f64;
                    let moved = match of.domain {
                        Domain::Stretch => of.density.stretched(libm::exp(at)),
                        _ => of.density.shifted(at),
                    };
                    let likelihood = rough_likelihood(&moved, reading, of.errors[quality]);
                    // A likelihood of nothing stays within what can be told from nothing.
                    libm::log(likelihood.max(1e-300) / of.unmoved[quality].max(1e-300))
                })
                .collect();
        }
        of
    }

    /// How far along its grid a number has moved from where it was in the case.
    fn along(&self, value: f64, was: f64) -> f64 {
        match self.domain {
            Domain::Stretch => libm::log(value / was),
            _ => value - was,
        }
    }

    /// By what the likelihood is multiplied, and its derivative by the number.
    fn factor(&self, quality: usize, value: f64, was: f64) -> (f64, f64) {
        let (from, to) = self.grid;
        let along = self.along(value, was);
        if along == 0.0 && to <= from {
            return (1.0, 0.0);
        }
        let table = &self.table[quality];
        let step = (to - from) / (GRID - 1) as f64;
        let place = ((along - from) / step).clamp(0.0, (GRID - 1) as f64);
        let cell = (place.floor() as usize).min(GRID - 2);
        let within = place - cell as f64;
        // A cubic through the two ends with the slopes of their neighbours' chords.
        let slope = |at: usize| {
            let (before, after) = (at.saturating_sub(1), (at + 1).min(GRID - 1));
            (table[after] - table[before]) / (after - before) as f64
        };
        let (a, b) = (table[cell], table[cell + 1]);
        let (sa, sb) = (slope(cell), slope(cell + 1));
        let (c2, c3) = (3.0 * (b - a) - 2.0 * sa - sb, 2.0 * (a - b) + sa + sb);
        let ln = a + within * (sa + within * (c2 + within * c3));
        let ln_slope = (sa + within * (2.0 * c2 + 3.0 * within * c3)) / step;
        let factor = libm::exp(ln);
        let by_number = match self.domain {
            Domain::Stretch => ln_slope / value,
            _ => ln_slope,
        };
        (factor, factor * by_number)
    }
}

impl<'a> Workings<'a> {
    pub fn new(pack: &'a Pack, case: &'a Case, model: &'a Model) -> Result<Self, Error> {
        let spreads = Spreads::of(pack);
        let likelihoods = Likelihoods::new(pack, model, case)?;
        let mut formulas = model.formulas.clone();
        let mut reports = Vec::new();
        let mut readings = Vec::new();
        for item in &likelihoods.items {
            let mut of = [Vec::new(), Vec::new()];
            let mut moved = None;
            match item.item {
                Item::Finding(index) => {
                    let finding = &case.findings[index];
                    if let Some(report) = reported(finding.outcome) {
                        let (sign, visit) =
                            (&pack.signs[finding.sign], &case.visits[finding.visit]);
                        for (poor, of) in of.iter_mut().enumerate() {
                            *of = report_in(&mut formulas, pack, sign, report, visit, poor == 1);
                        }
                    }
                }
                Item::Reading(index) => {
                    moved = Some(MovedReading::new((pack, case, &spreads), index));
                }
            }
            reports.push(of);
            readings.push(moved);
        }
        let poor = likelihoods
            .visits
            .iter()
            .map(|visit| poor_in(&mut formulas, pack, &case.visits[*visit]))
            .collect();
        let priors = prior_weights(&mut formulas, pack, case);
        formulas.close();
        let mut places: Vec<Vec<usize>> = Vec::new();
        for (place, item) in likelihoods.items.iter().enumerate() {
            let variable = |of: &usize| likelihoods.items[*of].variable;
            match places
                .iter_mut()
                .find(|all| variable(&all[0]) == item.variable)
            {
                Some(all) => all.push(place),
                None => places.push(vec![place]),
            }
        }
        let mut workings = Self {
            pack,
            case,
            model,
            spreads,
            likelihoods,
            formulas,
            reports,
            poor,
            priors,
            readings,
            places,
            numbers: Vec::new(),
            factors: Vec::new(),
            start: Vec::new(),
        };
        workings
            .formulas
            .evaluate(&case.numbers, &mut workings.start);
        workings.numbers = workings.relevant();
        workings.factors = workings.factors_of();
        Ok(workings)
    }

    /// The numbers that some formula or reading uses and that are not so by nature.
    fn relevant(&self) -> Vec<NumberId> {
        let moved = self.readings.iter().flatten();
        let mut numbers = self.formulas.numbers();
        // An incident that nothing reported depends on, nor is known of, sums to one.
        let network = &self.model.network;
        let used = |incident: usize| {
            let id = self.model.incidents[incident];
            let mut variables = network.variables().iter();
            variables.any(|variable| variable.parents.contains(&id))
                || self.case.known.iter().any(|(known, _)| *known == incident)
        };
        for (place, incident) in self.pack.incidents.iter().enumerate() {
            if !used(place) {
                numbers.retain(|id| !incident.rates.contains(id));
            }
        }
        numbers.extend(moved.flat_map(|reading| reading.moves.iter().map(|m| m.number)));
        numbers.retain(|id| !self.pack.numbers[id.index()].structural);
        numbers.sort_unstable();
        numbers.dedup();
        numbers
    }

    pub fn numbers(&self) -> &[NumberId] {
        &self.numbers
    }

    /// The case's polynomial is a sum of products with one entry of each of these factors: every
    /// part of every variable's distribution, every report, every visit, and the prior.
    fn factors_of(&self) -> Vec<Vec<u32>> {
        let mut factors: Vec<Vec<u32>> = Vec::new();
        let mut add = |formula: FormulaId, factor: u32| {
            if factors.len() <= formula.index() {
                factors.resize(formula.index() + 1, Vec::new());
            }
            if !factors[formula.index()].contains(&factor) {
                factors[formula.index()].push(factor);
            }
        };
        let mut parts: BTreeMap<(usize, Role), u32> = BTreeMap::new();
        for entry in &self.model.entries {
            let parameter = &self.model.circuit.parameters()[entry.parameter.index()];
            let key = (parameter.variable.index(), parameter.role);
            let next = parts.len() as u32;
            let factor = *parts.entry(key).or_insert(next);
            add(entry.formula, factor);
        }
        let mut next = parts.len() as u32;
        for report in &self.reports {
            for formula in report.iter().flatten() {
                add(*formula, next);
            }
            next += 1;
        }
        for poor in &self.poor {
            add(*poor, next);
            next += 1;
        }
        for prior in &self.priors {
            add(*prior, next);
        }
        factors
    }

    pub fn desk(&self) -> Desk {
        let batch = self.likelihoods.quality_chances.len();
        let mut workspace = self.model.workspace(batch);
        let (pack, model) = (self.pack, self.model);
        self.likelihoods
            .apply(pack, model, self.case, &mut workspace, |_| true);
        let items = self.likelihoods.items.iter();
        Desk {
            workspace,
            values: Vec::new(),
            held: vec![f64::NAN; self.model.entries.len()],
            likelihoods: items.map(|item| item.by_quality.clone()).collect(),
            chances: vec![0.0; batch],
            factors: Vec::new(),
            side_by_side: Vec::new(),
        }
    }

    /// Lays given values of the numbers out on a desk, whose formulas have been evaluated.
    fn lay_out(&self, desk: &mut Desk, numbers: &[f64]) {
        // Slices and plain loops: this is compiled small for the web and has to be fast there too.
        let (circuit, values) = (&self.model.circuit, &desk.values[..]);
        let lanes = circuit.lanes();
        let entries = self.model.entries.chunks(lanes);
        for (entries, held) in entries.zip(desk.held.chunks_mut(lanes)) {
            let mut changed = false;
            for place in 0..entries.len() {
                let value = values[entries[place].formula.index()];
                changed |= held[place] != value;
                held[place] = value;
            }
            // Most stand where they stood, unless all numbers are drawn anew.
            if changed {
                let parameter = entries[0].parameter;
                circuit.set_parameter_lanes(&mut desk.workspace, parameter, held);
            }
        }
        for (place, item) in self.likelihoods.items.iter().enumerate() {
            for quality in 0..2 {
                let to = &mut desk.likelihoods[place][quality][..];
                match &self.readings[place] {
                    None => {
                        let formulas = &self.reports[place][quality][..];
                        for entry in 0..to.len().min(formulas.len()) {
                            to[entry] = values[formulas[entry].index()];
                        }
                    }
                    Some(reading) => {
                        desk.factors.clear();
                        for moved in &reading.moves {
                            desk.factors.push(self.moved(moved, quality, numbers).0);
                        }
                        let factors = &desk.factors[..];
                        let exact = &item.by_quality[quality][..];
                        let of = &reading.entries[..];
                        for entry in 0..to.len().min(of.len()) {
                            to[entry] = exact[entry] * factors[of[entry]];
                        }
                    }
                }
            }
        }
        self.put_likelihoods(desk);
        let values = &desk.values;
        for (state, chance) in desk.chances.iter_mut().enumerate() {
            let poor = self.poor.iter().enumerate().map(|(visit, poor)| {
                let poor = values[poor.index()];
                if state >> visit & 1 == 1 {
                    poor
                } else {
                    1.0 - poor
                }
            });
            *chance = poor.product();
        }
    }

    fn moved(&self, moved: &Move, quality: usize, numbers: &[f64]) -> (f64, f64) {
        let place = moved.number.index();
        let was = self.case.numbers[place];
        if numbers[place] == was {
            let (_, slope) = moved.factor(quality, was, was);
            return (1.0, slope);
        }
        moved.factor(quality, numbers[place], was)
    }

    /// Puts the product of all items at each leaf or measure into the workspace.
    fn put_likelihoods(&self, desk: &mut Desk) {
        let histories = self.priors.len();
        let circuit = &self.model.circuit;
        let items = &self.likelihoods.items;
        let items = &items[..];
        for all in &self.places {
            let all = &all[..];
            let item = &items[all[0]];
            let reading = matches!(item.item, Item::Reading(_));
            let width = item.by_quality[0].len();
            for state in 0..desk.chances.len() {
                for entry in 0..width {
                    let likelihoods = &desk.likelihoods[..];
                    let mut weight = 1.0;
                    for other in all {
                        let quality = self.likelihoods.quality(&items[*other], state);
                        weight *= likelihoods[*other][quality].as_slice()[entry];
                    }
                    let (workspace, id) = (&mut desk.workspace, item.variable);
                    if reading {
                        let rest = width / histories;
                        let (lane, within) = (entry / rest, entry % rest);
                        circuit.set_likelihood(workspace, id, within, state, lane, weight);
                    } else {
                        circuit.set_likelihood_alike(workspace, id, entry, state, weight);
                    }
                }
            }
        }
    }

    /// Joint probability of each history and all evidence for given values of the numbers, up to a
    /// factor that is the same for all values.
    pub fn histories(&self, desk: &mut Desk, numbers: &[f64]) -> Vec<f64> {
        self.formulas.evaluate(numbers, &mut desk.values);
        self.evaluated(desk, numbers)
    }

    /// [`histories`](Self::histories) for several sets of numbers: their formulas are evaluated
    /// side by side.
    pub fn histories_of_many(&self, desk: &mut Desk, sets: &[Vec<f64>]) -> Vec<Vec<f64>> {
        let mut joints = Vec::with_capacity(sets.len());
        let mut side_by_side = std::mem::take(&mut desk.side_by_side);
        for sets in sets.chunks(ABREAST) {
            self.formulas.evaluate_abreast(sets, &mut side_by_side);
            for (place, numbers) in sets.iter().enumerate() {
                desk.values.clear();
                desk.values
                    .extend(side_by_side.iter().map(|values| values[place]));
                joints.push(self.evaluated(desk, numbers));
            }
        }
        desk.side_by_side = side_by_side;
        joints
    }

    fn evaluated(&self, desk: &mut Desk, numbers: &[f64]) -> Vec<f64> {
        self.lay_out(desk, numbers);
        self.model.circuit.value(&mut desk.workspace);
        self.read(desk)
    }

    fn read(&self, desk: &Desk) -> Vec<f64> {
        let circuit = &self.model.circuit;
        let scale = libm::exp2(f64::from(desk.workspace.exponent()));
        let lanes = self.priors.iter().enumerate();
        lanes
            .map(|(lane, prior)| {
                let sum: f64 = desk
                    .chances
                    .iter()
                    .enumerate()
                    .map(|(state, chance)| {
                        chance * circuit.lane_value(&desk.workspace, state, lane)
                    })
                    .sum();
                scale * desk.values[prior.index()] * sum
            })
            .collect()
    }

    /// Joint probability of each verdict and all evidence, with its derivatives by all numbers.
    pub fn slopes(&self, desk: &mut Desk, numbers: &[f64]) -> Slopes {
        self.formulas.evaluate(numbers, &mut desk.values);
        self.lay_out(desk, numbers);
        let circuit = &self.model.circuit;
        circuit.derivative(&mut desk.workspace);
        let joint = crate::inquiry::by_verdict(self.pack, &self.read(desk));
        let mut slopes = Slopes {
            joint,
            by: [const { Vec::new() }; 4],
            by_entry: [const { Vec::new() }; 4],
            by_move: [const { Vec::new() }; 4],
        };
        for (place, verdict) in crate::pack::VERDICTS.into_iter().enumerate() {
            let lanes: Vec<usize> = (0..self.priors.len())
                .filter(|lane| self.pack.histories[*lane].verdict == verdict)
                .collect();
            let (by_entry, by_move) = self.slopes_of(desk, &lanes);
            let mut by_number = vec![0.0; numbers.len()];
            for (item, moves) in by_move.iter().enumerate() {
                for (by, moved) in moves.iter().zip(self.moves(item)) {
                    for (quality, by) in by.iter().enumerate() {
                        by_number[moved.number.index()] +=
                            by * self.moved(moved, quality, numbers).1;
                    }
                }
            }
            let mut passed = by_entry.clone();
            self.formulas
                .pass_back(&desk.values, &mut passed, &mut by_number);
            slopes.by[place] = by_number;
            slopes.by_entry[place] = by_entry;
            slopes.by_move[place] = by_move;
        }
        slopes
    }

    fn moves(&self, item: usize) -> &[Move] {
        match &self.readings[item] {
            Some(reading) => &reading.moves,
            None => &[],
        }
    }

    /// The derivatives of the joint of some histories and all evidence by all entries and moves.
    fn slopes_of(&self, desk: &Desk, lanes: &[usize]) -> (Vec<f64>, Vec<Vec<[f64; 2]>>) {
        let circuit = &self.model.circuit;
        let scale = libm::exp2(f64::from(desk.workspace.exponent()));
        // Slices and plain loops, as where numbers are laid out.
        let (values, chances) = (&desk.values[..], &desk.chances[..]);
        let prior = |lane: usize| values[self.priors[lane].index()];
        let mut by_formula = vec![0.0; values.len()];
        let mut by_move: Vec<Vec<[f64; 2]>> = (0..self.readings.len())
            .map(|item| vec![[0.0; 2]; self.moves(item).len()])
            .collect();
        let mut wanted = vec![None; self.priors.len()];
        for lane in lanes {
            wanted[*lane] = Some(scale * prior(*lane));
        }
        let (wanted, to) = (&wanted[..], &mut by_formula[..]);
        for entry in &self.model.entries {
            let (lane, parameter) = (entry.lane, entry.parameter);
            let Some(weight) = wanted[lane] else {
                continue;
            };
            let mut slope = 0.0;
            for (state, chance) in chances.iter().enumerate() {
                slope += chance * circuit.lane_slope(&desk.workspace, state, lane, parameter);
            }
            to[entry.formula.index()] += weight * slope;
        }
        let mut by_state = vec![0.0; desk.chances.len()];
        for lane in lanes {
            let mut sum = 0.0;
            for (state, chance) in desk.chances.iter().enumerate() {
                let value = scale * circuit.lane_value(&desk.workspace, state, *lane);
                sum += chance * value;
                by_state[state] += prior(*lane) * value;
            }
            by_formula[self.priors[*lane].index()] += sum;
        }
        for (visit, poor) in self.poor.iter().enumerate() {
            let chance = desk.values[poor.index()];
            for (state, by_state) in by_state.iter().enumerate() {
                let (sign, own) = if state >> visit & 1 == 1 {
                    (1.0, chance)
                } else {
                    (-1.0, 1.0 - chance)
                };
                if own > 0.0 {
                    by_formula[poor.index()] += sign * by_state * desk.chances[state] / own;
                }
            }
        }
        for (place, item) in self.likelihoods.items.iter().enumerate() {
            let items = &self.likelihoods.items;
            let others: Vec<usize> = (0..items.len())
                .filter(|other| *other != place && items[*other].variable == item.variable)
                .collect();
            let reading = self.readings[place].as_ref();
            let width = item.by_quality[0].len();
            let rest = if reading.is_some() {
                width / self.priors.len()
            } else {
                1
            };
            let states = if reading.is_some() { rest } else { width };
            for (state, chance) in desk.chances.iter().enumerate() {
                let quality = self.likelihoods.quality(item, state);
                let beside: Vec<&[f64]> = others
                    .iter()
                    .map(|other| {
                        let quality = self.likelihoods.quality(&items[*other], state);
                        &desk.likelihoods[*other][quality][..]
                    })
                    .collect();
                let beside = &beside[..];
                let exact = &item.by_quality[quality][..];
                let formulas = &self.reports[place][quality][..];
                let to = &mut by_formula[..];
                for lane in lanes {
                    let weight = scale * chance * prior(*lane);
                    for within in 0..states {
                        let entry = if reading.is_some() {
                            lane * rest + within
                        } else {
                            within
                        };
                        let mut weight = weight;
                        for other in beside {
                            weight *= other[entry];
                        }
                        let (workspace, id) = (&desk.workspace, item.variable);
                        let slope =
                            weight * circuit.lane_joint(workspace, state, *lane, id, within);
                        match reading {
                            None => to[formulas[entry].index()] += slope,
                            Some(reading) => {
                                by_move[place][reading.entries[entry]][quality] +=
                                    slope * exact[entry];
                            }
                        }
                    }
                }
            }
        }
        (by_formula, by_move)
    }

    /// How the case depends on a direction of the numbers, found once for a whole curve.
    pub fn course<'d>(&self, direction: &'d [(NumberId, f64)]) -> Course<'d> {
        let Dependence {
            degrees,
            kinks,
            polynomial,
        } = self.formulas.dependence(&self.start, direction);
        let mut of_factor: BTreeMap<u32, u32> = BTreeMap::new();
        let mut entries = Vec::new();
        for (formula, degree) in &degrees {
            let factors = self.factors.get(*formula).map_or(&[][..], Vec::as_slice);
            for factor in factors {
                let known = of_factor.entry(*factor).or_default();
                *known = (*known).max(*degree);
            }
            if !factors.is_empty() {
                entries.push(*formula);
            }
        }
        let mut moves = Vec::new();
        for (item, reading) in self.readings.iter().enumerate() {
            for (place, moved) in reading.iter().flat_map(|r| r.moves.iter().enumerate()) {
                if direction.iter().any(|(id, _)| *id == moved.number) {
                    moves.push((item, place));
                }
            }
        }
        Course {
            direction,
            steps: degrees.iter().map(|(formula, _)| *formula).collect(),
            entries,
            single: of_factor.len() + moves.len() <= 1,
            polynomial: polynomial && moves.is_empty(),
            moves,
            degree: of_factor.values().sum(),
            kinks,
        }
    }

    /// Joints of the verdicts some way along a course, from the slopes at its start where the
    /// course leads through one factor only, in whose entries the joint is straight; otherwise by
    /// evaluating anew.
    pub fn along(&self, desk: &mut Desk, slopes: &Slopes, course: &Course<'_>, t: f64) -> [f64; 4] {
        let start = &self.case.numbers;
        let mut numbers = start.clone();
        for (id, slope) in course.direction {
            numbers[id.index()] += t * slope;
        }
        if !course.single {
            let joint = self.histories(desk, &numbers);
            return crate::inquiry::by_verdict(self.pack, &joint);
        }
        let mut joint = slopes.joint;
        for (item, place) in &course.moves {
            let moved = &self.moves(*item)[*place];
            for quality in 0..2 {
                let more = self.moved(moved, quality, &numbers).0 - 1.0;
                for (verdict, joint) in joint.iter_mut().enumerate() {
                    *joint += more * slopes.by_move[verdict][*item][*place][quality];
                }
            }
        }
        if !course.steps.is_empty() {
            desk.values.clone_from(&self.start);
            self.formulas
                .evaluate_steps(&numbers, &course.steps, &mut desk.values);
            for formula in &course.entries {
                let more = desk.values[*formula] - self.start[*formula];
                for (verdict, joint) in joint.iter_mut().enumerate() {
                    *joint += more * slopes.by_entry[verdict][*formula];
                }
            }
        }
        joint
    }
}

impl Course<'_> {
    /// Whether nothing depends on it.
    pub fn is_still(&self) -> bool {
        self.entries.is_empty() && self.moves.is_empty()
    }

    /// Whether it moves the density of a reading.
    pub fn moves_readings(&self) -> bool {
        !self.moves.is_empty()
    }
}

/// A direction of the numbers, and what it leads through.
#[derive(Debug, Clone)]
pub(crate) struct Course<'d> {
    direction: &'d [(NumberId, f64)],
    /// The formulas that change, upward.
    steps: Vec<usize>,
    /// Those among them that are entries of the case's polynomial.
    entries: Vec<usize>,
    /// For moved readings: item and move.
    moves: Vec<(usize, usize)>,
    /// Whether all of that is one factor of the polynomial.
    single: bool,
    /// Whether the case is a polynomial along it, between kinks.
    pub polynomial: bool,
    /// The most its degree can be.
    pub degree: u32,
    /// Where it has kinks, rising.
    pub kinks: Vec<f64>,
}

impl MovedReading {
    fn new(workings: (&Pack, &Case, &Spreads), reading: usize) -> Self {
        let (pack, case, _) = workings;
        let measure = &pack.measures[case.readings[reading].measure];
        let mut moves: Vec<Move> = Vec::new();
        let mut entries = Vec::new();
        let overrides = measure.overrides.len();
        for expected in &measure.expectations {
            for state in 0..1_usize << overrides {
                // As in the likelihoods: the first override that happened decides.
                let first = (0..overrides).find(|o| state >> (overrides - 1 - o) & 1 == 1);
                let expectation = first.map_or(expected, |over| &measure.overrides[over].1);
                let place = moves.iter().position(|m| m.number == expectation.moved);
                entries.push(place.unwrap_or_else(|| {
                    moves.push(Move::new(workings, (reading, expectation)));
                    moves.len() - 1
                }));
            }
        }
        Self { moves, entries }
    }
}
