//! A pack's network for one claim, and its circuit: the piece conditional on its history.

use crate::case::Case;
use crate::error::Error;
use crate::examination::reported;
use crate::formula::{Arithmetic, FormulaId, Formulas};
use crate::pack::{NumberId, Pack, Shows, Sign};
use crate::prior::{date_row, yearly_shares};
use oddment_circuit::{
    Cause, Circuit, CompileOptions, Copying, Distribution, Hide, Network, NetworkBuilder, NoisyMax,
    ParameterId, Role, VariableId, Workspace,
};
use std::collections::BTreeMap;

/// A sign at a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Leaf {
    /// Index of the sign.
    pub sign: usize,
    /// Index of the part.
    pub part: usize,
    /// Its variable.
    pub variable: VariableId,
}

/// The compiled model of a pack for one claim and one set of numbers.
///
/// Variables of its network: `history` (the lane variable), `incident/ID`, `date/PART`,
/// `clarity/GROUP`, `sign/ID@PART` and `measure/ID`.
#[derive(Debug, Clone)]
pub struct Model {
    pub(crate) network: Network,
    pub(crate) circuit: Circuit,
    pub(crate) history: VariableId,
    pub(crate) incidents: Vec<VariableId>,
    /// For each dated part.
    pub(crate) dates: Vec<Option<VariableId>>,
    pub(crate) leaves: Vec<Leaf>,
    /// For each measure; `None` where the model was compiled without it.
    pub(crate) measures: Vec<Option<VariableId>>,
    /// How the network's entries follow from the pack's numbers.
    pub(crate) formulas: Formulas,
    /// The circuit's numbers that follow from them: for each, all its lanes in a row.
    pub(crate) entries: Vec<Entry>,
    /// Whether it leaves out what a case does not report.
    reduced: bool,
    /// Their values with the model's own numbers.
    values: Vec<f64>,
}

/// A number of the circuit that follows from the pack's numbers.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Entry {
    pub parameter: ParameterId,
    pub lane: usize,
    pub formula: FormulaId,
}

/// The cumulative chances below each level but the last.
fn cumulative<A: Arithmetic>(a: &mut A, chances: &[A::Value]) -> Vec<A::Value> {
    let total = a.sum(chances);
    let mut below = a.constant(0.0);
    chances[..chances.len() - 1]
        .iter()
        .map(|chance| {
            below = a.plus(below, *chance);
            a.over(below, total)
        })
        .collect()
}

/// Whether a model's numbers can be changed after it was compiled.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Numbers {
    Changeable,
    Folded,
}

/// What a model holds of the pack's signs and measures.
enum Scope<'c> {
    All,
    /// Only what this case reports: all else sums to one.
    Reported(&'c Case),
}

impl Scope<'_> {
    fn sign(&self, sign: usize, part: usize) -> bool {
        match self {
            Self::All => true,
            Self::Reported(case) => case.findings.iter().any(|finding| {
                (finding.sign, finding.part) == (sign, part) && reported(finding.outcome).is_some()
            }),
        }
    }

    fn measure(&self, measure: usize) -> bool {
        match self {
            Self::All => true,
            Self::Reported(case) => case.readings.iter().any(|r| r.measure == measure),
        }
    }
}

impl Model {
    /// Builds and compiles the model for a claim of these years.
    ///
    /// # Errors
    /// [`Error::Circuit`] when the circuit would be too large.
    pub fn compile(pack: &Pack, years: (i32, i32), numbers: &[f64]) -> Result<Self, Error> {
        Self::of_scope(pack, years, numbers, &Scope::All, Numbers::Changeable)
    }

    /// The model without the signs and measures that a case does not report, which changes no
    /// answer about what is left: smaller, for asking the same of many sets of numbers.
    ///
    /// # Errors
    /// [`Error::Circuit`] when the circuit would be too large.
    pub fn compile_reported(pack: &Pack, case: &Case) -> Result<Self, Error> {
        let scope = Scope::Reported(case);
        Self::of_scope(pack, case.years, &case.numbers, &scope, Numbers::Changeable)
    }

    /// As [`compile_reported`](Self::compile_reported), with the numbers folded into the circuit:
    /// smaller still, for asking much of one set of numbers.
    pub(crate) fn compile_folded(pack: &Pack, case: &Case) -> Result<Self, Error> {
        let scope = Scope::Reported(case);
        Self::of_scope(pack, case.years, &case.numbers, &scope, Numbers::Folded)
    }

    fn of_scope(
        pack: &Pack,
        years: (i32, i32),
        numbers: &[f64],
        scope: &Scope<'_>,
        kept: Numbers,
    ) -> Result<Self, Error> {
        // Entries that are equal for these numbers need not be for others. Compiled with numbers
        // that have nothing in common, only entries of the same formula are equal, and tied.
        let (generic, layout) = build_network(pack, years, &generic_numbers(pack), scope)?;
        let (network, _) = build_network(pack, years, numbers, scope)?;
        let changeable = kept == Numbers::Changeable;
        let circuit = Circuit::compile(
            if changeable { &generic } else { &network },
            &CompileOptions {
                keep_parameters: changeable,
                tie_equal: changeable,
                ..CompileOptions::default()
            },
        )?;
        let Layout {
            history,
            incidents,
            dates,
            leaves,
            measures,
            formulas,
            tables,
        } = layout;
        let mut entries = Vec::new();
        for (place, parameter) in circuit.parameters().iter().enumerate() {
            // What is folded, and what follows from no number, is not among the tables.
            let table = tables.get(&(parameter.variable, parameter.role));
            let Some(table) = table.filter(|_| changeable) else {
                continue;
            };
            let Some(id) = circuit.parameter_at(place) else {
                continue;
            };
            for lane in 0..circuit.lanes() {
                entries.push(Entry {
                    parameter: id,
                    lane,
                    formula: table[parameter.index + lane * parameter.lane_stride],
                });
            }
        }
        let mut model = Self {
            network,
            circuit,
            history,
            incidents,
            dates,
            leaves,
            measures,
            formulas,
            entries,
            reduced: matches!(scope, Scope::Reported(_)),
            values: Vec::new(),
        };
        let mut values = Vec::new();
        model.formulas.evaluate(numbers, &mut values);
        model.values = model
            .entries
            .iter()
            .map(|entry| values[entry.formula.index()])
            .collect();
        Ok(model)
    }

    /// Buffers for queries, holding the model's numbers.
    pub(crate) fn workspace(&self, batch: usize) -> Workspace {
        let mut workspace = self.circuit.workspace(batch);
        let lanes = self.circuit.lanes();
        let entries = self.entries.chunks(lanes);
        for (entries, values) in entries.zip(self.values.chunks(lanes)) {
            let parameter = entries[0].parameter;
            self.circuit
                .set_parameter_lanes(&mut workspace, parameter, values);
        }
        workspace
    }

    /// Whether it was compiled without what its case does not report.
    pub(crate) fn is_reduced(&self) -> bool {
        self.reduced
    }

    /// The network, for export and inspection.
    pub fn network(&self) -> &Network {
        &self.network
    }

    /// The circuit, for inspection. Its own numbers are placeholders.
    pub fn circuit(&self) -> &Circuit {
        &self.circuit
    }

    /// The signs at their parts, in the order of the pack.
    pub fn leaves(&self) -> &[Leaf] {
        &self.leaves
    }
}

/// Numbers that have nothing in common; those that are so by nature stay.
fn generic_numbers(pack: &Pack) -> Vec<f64> {
    // Multiples of an irrational number, modulo one, keep well apart.
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    pack.numbers
        .iter()
        .enumerate()
        .map(|(place, number)| {
            if number.structural {
                return number.mean;
            }
            let spread = (place as f64 + 1.0) * golden;
            // Below one half, so that no min(p, 1 - p) has a choice.
            0.05 + 0.4 * (spread - spread.floor())
        })
        .collect()
}

type Tables = BTreeMap<(VariableId, Role), Vec<FormulaId>>;

struct Layout {
    history: VariableId,
    incidents: Vec<VariableId>,
    dates: Vec<Option<VariableId>>,
    leaves: Vec<Leaf>,
    measures: Vec<Option<VariableId>>,
    formulas: Formulas,
    tables: Tables,
}

/// Formulas, and what they come to with given numbers.
struct Entries<'n> {
    formulas: Formulas,
    numbers: &'n [f64],
    values: Vec<f64>,
}

impl Entries<'_> {
    fn values(&mut self, of: &[FormulaId]) -> Vec<f64> {
        self.formulas.evaluate_from(self.numbers, &mut self.values);
        of.iter().map(|id| self.values[id.index()]).collect()
    }
}

fn build_network(
    pack: &Pack,
    years: (i32, i32),
    numbers: &[f64],
    scope: &Scope<'_>,
) -> Result<(Network, Layout), Error> {
    let histories = pack.histories.len();
    let mut entries = Entries {
        formulas: Formulas::default(),
        numbers,
        values: Vec::new(),
    };
    let mut tables = Tables::new();
    let mut builder = NetworkBuilder::new(pack.id.clone());
    let names: Vec<&str> = pack
        .histories
        .iter()
        .map(|history| history.id.as_str())
        .collect();
    // The prior belongs to the case and weighs the lanes at the end.
    let even = vec![1.0 / histories as f64; histories];
    let history = builder.variable("history", &names, &[], Distribution::Table(even))?;
    builder.lane(history);

    let mut incidents = Vec::new();
    for incident in &pack.incidents {
        let mut table = Vec::new();
        for rate in &incident.rates {
            let happened = entries.formulas.number(*rate);
            table.extend([entries.formulas.rest(happened), happened]);
        }
        let name = format!("incident/{}", incident.id);
        let distribution = Distribution::Table(entries.values(&table));
        let variable = builder.variable(name, &["no", "yes"], &[history], distribution)?;
        tables.insert((variable, Role::Table), table);
        incidents.push(variable);
    }

    let dates = build_dates(pack, years, &mut builder, history)?;

    let mut clarities = Vec::new();
    for group in &pack.groups {
        let name = format!("clarity/{}", group.id);
        let half = Distribution::Table(vec![0.5, 0.5]);
        clarities.push(builder.variable(name, &["plain", "faint"], &[], half)?);
    }

    let mut leaves = Vec::new();
    for (index, sign) in pack.signs.iter().enumerate() {
        for part in &sign.parts {
            if !scope.sign(index, *part) {
                continue;
            }
            let date = dates[*part];
            let parents = (history, date, clarities.as_slice(), incidents.as_slice());
            let rows = sign_rows(&mut entries.formulas, pack, sign, parents);
            let mut parents = rows.base_parents.clone();
            let others = rows.causes.iter().map(|cause| cause.0);
            for parent in others.chain(rows.hides.iter().map(|hide| hide.0)) {
                if !parents.contains(&parent) {
                    parents.push(parent);
                }
            }
            let noisy = NoisyMax {
                base_parents: rows.base_parents,
                base: entries.values(&rows.base),
                causes: rows
                    .causes
                    .iter()
                    .map(|(parent, cumulative)| Cause {
                        parent: *parent,
                        cumulative: entries.values(cumulative),
                    })
                    .collect(),
                hides: rows
                    .hides
                    .iter()
                    .map(|(parent, blank)| Hide {
                        parent: *parent,
                        blank: entries.values(blank),
                    })
                    .collect(),
            };
            let name = format!("sign/{}@{}", sign.id, pack.parts[*part].id);
            let distribution = Distribution::NoisyMax(noisy);
            let variable = builder.variable(name, &sign.levels, &parents, distribution)?;
            tables.insert((variable, Role::Base), rows.base);
            for (place, (_, cumulative)) in rows.causes.into_iter().enumerate() {
                tables.insert((variable, Role::Cause(place)), cumulative);
            }
            for (place, (_, blank)) in rows.hides.into_iter().enumerate() {
                tables.insert((variable, Role::Hide(place)), blank);
            }
            leaves.push(Leaf {
                sign: index,
                part: *part,
                variable,
            });
        }
    }

    let mut measures = Vec::new();
    for (index, measure) in pack.measures.iter().enumerate() {
        if !scope.measure(index) {
            measures.push(None);
            continue;
        }
        let mut parents = vec![history];
        let overrides = measure.overrides.iter();
        parents.extend(overrides.map(|(incident, _)| incidents[*incident]));
        let name = format!("measure/{}", measure.id);
        let none: [&str; 0] = [];
        let variable = builder.variable(name, &none, &parents, Distribution::Likelihood)?;
        measures.push(Some(variable));
    }
    let network = builder.finish()?;
    Ok((
        network,
        Layout {
            history,
            incidents,
            dates,
            leaves,
            measures,
            formulas: entries.formulas,
            tables,
        },
    ))
}

/// Making dates, each part after the one whose date it may share.
fn build_dates(
    pack: &Pack,
    years: (i32, i32),
    builder: &mut NetworkBuilder,
    history: VariableId,
) -> Result<Vec<Option<VariableId>>, Error> {
    let bins = pack.dates.bins();
    let names: Vec<String> = (0..bins)
        .map(|bin| pack.dates.years(bin))
        .map(|(from, _)| from.to_string())
        .collect();
    let mut dates = vec![None; pack.parts.len()];
    loop {
        let next = (0..pack.parts.len()).find(|part| {
            pack.parts[*part].dated
                && dates[*part].is_none()
                && pack.companions[*part].is_none_or(|other| dates[other].is_some())
        });
        let Some(part) = next else { return Ok(dates) };
        let (mut own, mut share) = (Vec::new(), Vec::new());
        for history in &pack.histories {
            let row = history.origins[part].and_then(|origin| date_row(pack, origin, years));
            share.push(if row.is_some() { 0.0 } else { 1.0 });
            // Where the date is shared the own row is never used; it must still be a distribution.
            own.extend(row.unwrap_or_else(|| {
                let mut first = vec![0.0; bins];
                first[0] = 1.0;
                first
            }));
        }
        let name = format!("date/{}", pack.parts[part].id);
        let variable = match pack.companions[part].and_then(|other| dates[other]) {
            Some(source) => {
                let copying = Distribution::Copying(Copying { source, share, own });
                builder.variable(name, &names, &[history, source], copying)?
            }
            None => builder.variable(name, &names, &[history], Distribution::Table(own))?,
        };
        dates[part] = Some(variable);
    }
}

/// A sign's noisy-max as formulas.
struct SignRows {
    base_parents: Vec<VariableId>,
    base: Vec<FormulaId>,
    causes: Vec<(VariableId, Vec<FormulaId>)>,
    hides: Vec<(VariableId, Vec<FormulaId>)>,
}

/// The history, the date of the sign's part, the groups' clarities and the incidents.
type Parents<'v> = (
    VariableId,
    Option<VariableId>,
    &'v [VariableId],
    &'v [VariableId],
);

fn sign_rows(
    a: &mut Formulas,
    pack: &Pack,
    sign: &Sign,
    (history, date, clarities, incidents): Parents<'_>,
) -> SignRows {
    let mut hides = Vec::new();
    let (base_parents, base) = match &sign.shows {
        Shows::History(rows) => {
            let rows: Vec<Vec<FormulaId>> = rows.iter().map(|row| below(a, row)).collect();
            match sign.group {
                None => (vec![history], rows.concat()),
                Some(group) => {
                    let coupling = a.number(pack.groups[group].coupling);
                    let mut base = Vec::new();
                    for row in &rows {
                        // Plain traces show more: less chance of staying below a level.
                        for towards in [-1.0, 1.0] {
                            base.extend(row.iter().map(|below| {
                                let lesser = a.lesser(*below);
                                let shift = a.times(coupling, lesser);
                                let towards = a.constant(towards);
                                let shift = a.times(towards, shift);
                                a.plus(*below, shift)
                            }));
                        }
                    }
                    (vec![history, clarities[group]], base)
                }
            }
        }
        Shows::Dated {
            curve,
            visible,
            added,
            removed,
        } => {
            let chance = |a: &mut Formulas, side: &Option<NumberId>| match side {
                Some(id) => a.number(*id),
                None => a.constant(0.0),
            };
            if removed.iter().any(Option::is_some) {
                let blank = removed.iter().map(|side| chance(a, side)).collect();
                hides.push((history, blank));
            }
            let visible = a.number(*visible);
            let half = a.number(pack.curve_halves[*curve]);
            let absent: Vec<FormulaId> = yearly_shares(pack, *curve)
                .iter()
                .map(|shares| {
                    let share = a.moved_share(shares, half);
                    let shown = a.times(share, visible);
                    a.rest(shown)
                })
                .collect();
            match date {
                Some(date) => {
                    let mut base = Vec::new();
                    for added in added {
                        let added = chance(a, added);
                        let not_added = a.rest(added);
                        base.extend(absent.iter().map(|absent| a.times(*absent, not_added)));
                    }
                    (vec![history, date], base)
                }
                // Checked on loading: a dated sign stands on a dated part.
                None => (vec![history], vec![a.constant(1.0); pack.histories.len()]),
            }
        }
    };
    let causes = sign
        .causes
        .iter()
        .map(|(incident, row)| {
            let below = below(a, row);
            let mut cumulative = vec![a.constant(1.0); below.len()];
            cumulative.extend(below);
            (incidents[*incident], cumulative)
        })
        .collect();
    hides.extend(sign.hides.iter().map(|(incident, blank)| {
        let blank = vec![a.constant(0.0), a.number(*blank)];
        (incidents[*incident], blank)
    }));
    SignRows {
        base_parents,
        base,
        causes,
        hides,
    }
}

/// The cumulative chances of a row, or of `[1 - p, p]` for a single chance.
fn below(a: &mut Formulas, row: &[NumberId]) -> Vec<FormulaId> {
    match row {
        [single] => {
            let chance = a.number(*single);
            vec![a.rest(chance)]
        }
        row => {
            let chances: Vec<FormulaId> = row.iter().map(|chance| a.number(*chance)).collect();
            cumulative(a, &chances)
        }
    }
}
