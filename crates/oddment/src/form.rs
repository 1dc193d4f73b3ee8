//! What a form is: everything somebody needs who asks an examiner about a piece of it, in one plain
//! value.

use crate::assessment::PackStamp;
use crate::inquiry::stamp;
use crate::lean::{unit, words};
use crate::leaning::NumberUnit;
use crate::order::sort_by;
use crate::pack::file::{
    CautionFile, CurveFile, PartFile, PeriodFile, RegionFile, SourceFile, VariantFile,
};
use crate::pack::{
    Access, Check, Domain, ElicitedNumber, Incident, Leave, Measure, NumberId, Pack, Prior, Shows,
    Sign, Verdict,
};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The `schema` field of a form's description.
pub const FORM_SCHEMA: &str = "oddment/form/1";

/// A form in a list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FormSummary {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// The pack's version.
    pub version: String,
    /// What the pack covers and how far its numbers can be trusted.
    pub summary: String,
}

/// Everything a pack says of its form, the library's share included.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FormDescription {
    /// Always `oddment/form/1`.
    pub schema: String,
    /// Version of the engine.
    pub engine: String,
    /// The pack described.
    pub pack: PackStamp,
    /// What it covers and how far its numbers can be trusted.
    pub summary: String,
    /// First year of the first bin of the grid of making dates, the year after its last, and the
    /// width of a bin.
    pub dates: (i32, i32, i32),
    /// Kinds of the form.
    pub variants: Vec<VariantFile>,
    /// Periods that pieces are claimed to be of.
    pub periods: Vec<PeriodFile>,
    /// Regions that pieces are claimed to come from.
    pub regions: Vec<RegionFile>,
    /// Named components.
    pub parts: Vec<PartFile>,
    /// The rival stories.
    pub histories: Vec<HistoryDescription>,
    /// How many of 1,000 pieces offered as such have each history, for each variant.
    pub priors: Vec<PriorDescription>,
    /// Honest events of a long life.
    pub incidents: Vec<IncidentDescription>,
    /// Ways of looking, least trouble first.
    pub checks: Vec<CheckDescription>,
    /// What can be seen or felt.
    pub signs: Vec<SignDescription>,
    /// What can be measured.
    pub measures: Vec<MeasureDescription>,
    /// Acts that leave several signs.
    pub groups: Vec<GroupDescription>,
    /// Cautions that checks point to.
    pub cautions: Vec<CautionFile>,
    /// When dated technologies were in use.
    pub curves: Vec<CurveFile>,
    /// References that numbers cite.
    pub sources: Vec<SourceFile>,
    /// Every elicited number, which a case may replace under its id.
    pub numbers: Vec<NumberDescription>,
}

/// A rival story.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HistoryDescription {
    /// Its id.
    pub id: String,
    /// A few words.
    pub name: String,
    /// The verdict it belongs to.
    pub verdict: Verdict,
    /// A word that histories of several forms share.
    pub kind: String,
    /// What happened, and what it would have left behind.
    pub story: String,
}

/// Where the odds of one variant start.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PriorDescription {
    /// Id of the variant.
    pub variant: String,
    /// Counts in the order of the histories, before periods, regions and prices shift them.
    pub counts: Vec<f64>,
    /// Why these.
    pub reason: String,
}

/// An honest event.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IncidentDescription {
    /// Its id.
    pub id: String,
    /// A few words.
    pub name: String,
    /// What it does to a piece.
    pub effect: String,
}

/// A way of looking.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CheckDescription {
    /// Its id.
    pub id: String,
    /// A few words.
    pub name: String,
    /// How to do it.
    pub how: String,
    /// What to bring.
    pub tools: Vec<String>,
    /// Minutes it takes.
    pub minutes: f64,
    /// How far one must go.
    pub access: Access,
    /// Whether the owner must be asked.
    pub leave: Leave,
    /// Ids of cautions to mind.
    pub cautions: Vec<String>,
    /// Ids of the signs it answers.
    pub signs: Vec<String>,
    /// Ids of the measures it answers.
    pub measures: Vec<String>,
}

/// Something that can be seen or felt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SignDescription {
    /// Its id.
    pub id: String,
    /// The sign in one line.
    pub name: String,
    /// Ids of the parts it is looked for at.
    pub parts: Vec<String>,
    /// Id of the check that answers it.
    pub check: String,
    /// Ids of the only variants that have it to look for; all of them when null.
    pub variants: Option<Vec<String>>,
    /// Names of its levels, "not there" first: what a finding may say.
    pub levels: Vec<String>,
    /// What it points to.
    pub points_to: String,
    /// The innocent reading.
    pub innocent: String,
    /// Id of the act that leaves it along with others.
    pub group: Option<String>,
    /// Id of the curve of the technology it dates by.
    pub curve: Option<String>,
    /// Ids of incidents that can cause it.
    pub caused_by: Vec<String>,
    /// Ids of incidents that can hide it.
    pub hidden_by: Vec<String>,
}

/// Something that can be measured.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeasureDescription {
    /// Its id.
    pub id: String,
    /// What is measured.
    pub name: String,
    /// Id of the part.
    pub part: String,
    /// Its unit.
    pub unit: String,
    /// Id of the check that answers it.
    pub check: String,
    /// Standard error of an ordinary instrument.
    pub error: f64,
    /// Readings outside are refused.
    pub plausible: (f64, f64),
    /// Ids of the only variants that have it to measure; all of them when null.
    pub variants: Option<Vec<String>>,
    /// What it points to.
    pub points_to: String,
    /// The innocent reading.
    pub innocent: String,
}

/// An act that leaves several signs.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GroupDescription {
    /// Its id.
    pub id: String,
    /// The act.
    pub name: String,
    /// Why the signs hang together.
    pub reason: String,
}

/// An elicited number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NumberDescription {
    /// Its id.
    pub id: String,
    /// What it says, in the pack's own words.
    pub words: String,
    /// Its mean.
    pub mean: f64,
    /// Equivalent sample size: how many pieces seen it is worth.
    pub strength: f64,
    /// Id of its source.
    pub source: String,
    /// In what it is told.
    pub unit: NumberUnit,
    /// Which values it may take.
    pub domain: NumberDomain,
    /// Exactly 0 or 1 by the nature of the thing, and not to be replaced.
    pub structural: bool,
}

/// Which values a number may take.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum NumberDomain {
    /// Strictly between 0 and 1.
    Chance,
    /// From 0 to 1.
    Share,
    /// 0 or more.
    NotNegative,
    /// Above 0; 1 changes nothing.
    Stretch,
    /// Any; 0 changes nothing.
    Shift,
}

impl From<Domain> for NumberDomain {
    fn from(domain: Domain) -> Self {
        match domain {
            Domain::Chance => Self::Chance,
            Domain::Share => Self::Share,
            Domain::NotNegative => Self::NotNegative,
            Domain::Stretch => Self::Stretch,
            Domain::Shift { .. } => Self::Shift,
        }
    }
}

/// Describes a pack's form.
///
/// ```
/// let pack = oddment::packs::load("drop-leaf-table")?;
/// let form = oddment::form::describe(&pack);
/// // Every sign can be looked up by the check that answers it.
/// let signs: usize = form.checks.iter().map(|check| check.signs.len()).sum();
/// assert_eq!(signs, form.signs.len());
/// # Ok::<(), oddment::Error>(())
/// ```
#[must_use]
pub fn describe(pack: &Pack) -> FormDescription {
    let mut checks: Vec<(usize, &Check)> = pack.checks.iter().enumerate().collect();
    sort_by(&mut checks, |(_, one), (_, other)| {
        let shorter = one.minutes.total_cmp(&other.minutes);
        one.access.cmp(&other.access).then(shorter)
    });
    FormDescription {
        schema: FORM_SCHEMA.into(),
        engine: env!("CARGO_PKG_VERSION").into(),
        pack: stamp(pack),
        summary: pack.summary.clone(),
        dates: (pack.dates.from, pack.dates.to, pack.dates.step),
        variants: pack.variants.clone(),
        periods: pack.periods.clone(),
        regions: pack.regions.clone(),
        parts: pack.parts.clone(),
        histories: pack
            .histories
            .iter()
            .map(|history| HistoryDescription {
                id: history.id.clone(),
                name: history.name.clone(),
                verdict: history.verdict,
                kind: history.kind.clone(),
                story: history.story.clone(),
            })
            .collect(),
        priors: pack
            .variants
            .iter()
            .zip(&pack.priors)
            .map(|(variant, prior)| of_prior(pack, variant, prior))
            .collect(),
        incidents: pack.incidents.iter().map(of_incident).collect(),
        checks: checks
            .into_iter()
            .map(|(place, check)| of_check(pack, place, check))
            .collect(),
        signs: pack.signs.iter().map(|sign| of_sign(pack, sign)).collect(),
        measures: pack
            .measures
            .iter()
            .map(|measure| of_measure(pack, measure))
            .collect(),
        groups: pack
            .groups
            .iter()
            .map(|group| GroupDescription {
                id: group.id.clone(),
                name: group.name.clone(),
                reason: group.reason.clone(),
            })
            .collect(),
        cautions: pack.cautions.clone(),
        curves: pack.curves.clone(),
        sources: pack.sources.clone(),
        numbers: pack
            .numbers
            .iter()
            .enumerate()
            .map(|(place, number)| of_number(pack, NumberId(place as u32), number))
            .collect(),
    }
}

fn of_prior(pack: &Pack, variant: &VariantFile, prior: &Prior) -> PriorDescription {
    PriorDescription {
        variant: variant.id.clone(),
        counts: prior.counts.iter().map(|id| pack.number(*id)).collect(),
        reason: prior.reason.clone(),
    }
}

fn of_incident(incident: &Incident) -> IncidentDescription {
    IncidentDescription {
        id: incident.id.clone(),
        name: incident.name.clone(),
        effect: incident.effect.clone(),
    }
}

fn of_check(pack: &Pack, place: usize, check: &Check) -> CheckDescription {
    let signs = pack.signs.iter().filter(|sign| sign.check == place);
    let measures = pack.measures.iter().filter(|of| of.check == place);
    CheckDescription {
        id: check.id.clone(),
        name: check.name.clone(),
        how: check.how.clone(),
        tools: check.tools.clone(),
        minutes: check.minutes,
        access: check.access,
        leave: check.leave,
        cautions: ids(&check.cautions, &pack.cautions, |caution| &caution.id),
        signs: signs.map(|sign| sign.id.clone()).collect(),
        measures: measures.map(|measure| measure.id.clone()).collect(),
    }
}

fn of_sign(pack: &Pack, sign: &Sign) -> SignDescription {
    let incident = |place: usize| pack.incidents[place].id.clone();
    let curve = match &sign.shows {
        Shows::Dated { curve, .. } => Some(pack.curves[*curve].id.clone()),
        Shows::History(_) => None,
    };
    SignDescription {
        id: sign.id.clone(),
        name: sign.name.clone(),
        parts: ids(&sign.parts, &pack.parts, |part| &part.id),
        check: pack.checks[sign.check].id.clone(),
        variants: only(pack, sign.variants.as_deref()),
        levels: sign.levels.clone(),
        points_to: sign.points_to.clone(),
        innocent: sign.innocent.clone(),
        group: sign.group.map(|group| pack.groups[group].id.clone()),
        curve,
        caused_by: sign.causes.iter().map(|(by, _)| incident(*by)).collect(),
        hidden_by: sign.hides.iter().map(|(by, _)| incident(*by)).collect(),
    }
}

fn of_measure(pack: &Pack, measure: &Measure) -> MeasureDescription {
    MeasureDescription {
        id: measure.id.clone(),
        name: measure.name.clone(),
        part: pack.parts[measure.part].id.clone(),
        unit: measure.unit.clone(),
        check: pack.checks[measure.check].id.clone(),
        error: measure.error,
        plausible: measure.plausible,
        variants: only(pack, measure.variants.as_deref()),
        points_to: measure.points_to.clone(),
        innocent: measure.innocent.clone(),
    }
}

fn only(pack: &Pack, variants: Option<&[usize]>) -> Option<Vec<String>> {
    variants.map(|variants| ids(variants, &pack.variants, |variant| &variant.id))
}

fn of_number(pack: &Pack, id: NumberId, number: &ElicitedNumber) -> NumberDescription {
    NumberDescription {
        id: number.id.clone(),
        words: words(pack, id),
        mean: number.mean,
        strength: number.strength,
        source: pack.sources[number.source].id.clone(),
        unit: unit(pack, id),
        domain: number.domain.into(),
        structural: number.structural,
    }
}

fn ids<T>(places: &[usize], all: &[T], id: impl Fn(&T) -> &String) -> Vec<String> {
    places
        .iter()
        .map(|place| id(&all[*place]).clone())
        .collect()
}
