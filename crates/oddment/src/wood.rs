//! How much wood moves: seasonal swing, shrinkage, and the round top that is no
//! longer round.
//!
//! Wood shrinks and swells **across** the grain as its moisture content follows
//! the air, and hardly at all along it. A round top made round is therefore, in
//! drier air, shorter across the grain than along it. The size of the effect
//! depends on species and cut far more than on age: a flat-sawn mahogany top
//! moves by nearly 1 % between an unheated and a heated room, so a top that is
//! out of round by that much says little about age by itself.
//!
//! The figures are from the USDA Forest Products Laboratory, *Wood Handbook*,
//! FPL-GTR-190 (2010): change coefficients in Table 13-5, green-to-ovendry
//! shrinkage in Tables 4-3 (domestic) and 4-4 (imported). The two do not always
//! agree, so [`coefficient_range`] gives both and not one number. There are no
//! rows for European walnut, oak or beech, Scots pine, satinwood or rosewood: an
//! American relative is a stand-in and should be named as one.
//!
//! None of this holds for a veneered, clamped or framed top, whose movement is
//! restrained: ask about the construction first.
//!
//! Moisture contents are percentages of the ovendry mass.
//!
//! ```
//! use oddment::wood::{Cut, predicted_out_of_round_mm_per_m, species};
//!
//! // A top dried from 12 % to 8 %: the tables bracket 5.8 to 9.5 mm per metre.
//! let (low, high) = predicted_out_of_round_mm_per_m(species("mahogany")?, Cut::FlatSawn, 4.0)?;
//! assert!((low - 5.754386).abs() < 1e-6 && (high - 9.52).abs() < 1e-12);
//! # Ok::<(), oddment::wood::WoodError>(())
//! ```

mod species;
#[cfg(test)]
mod tests;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
pub use species::{Directions, SPECIES, Species, species};

/// Moisture contents, percent, between which the change coefficients hold
/// (Wood Handbook, FPL-GTR-190, chapter 13).
pub const COEFFICIENT_MOISTURE: (f64, f64) = (6.0, 14.0);
/// Fibre saturation, percent moisture, where the species' own is not known
/// (Wood Handbook, FPL-GTR-190, eq. 4-9).
pub const FIBRE_SATURATION: f64 = 30.0;
/// Percentage points of moisture by which the shrinkage of Tables 4-3 and 4-4 is
/// divided to compare it with Table 13-5. In 16 of the 21 rows that have both,
/// `S / 28.5 / 100` is within 0.00006 of C; the two mahoganies, both oaks (whose
/// C is for a commercial group) and beech differ by more.
pub const SHRINKAGE_SPAN: f64 = 28.5;
/// Shrinkage along the grain of normal wood, percent from green to ovendry
/// (American Wood Council).
pub const LENGTHWISE_SHRINKAGE: (f64, f64) = (0.1, 0.2);
/// Temperatures, °C, of the handbook's moisture table (30 to 270 °F; from
/// memory, unverified).
pub const EQUILIBRIUM_TEMPERATURE: (f64, f64) = (-1.1, 132.2);

/// How a board was cut from the log, which decides the direction that shows as
/// its width.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Cut {
    /// Growth rings lie flat in the board: its width moves tangentially.
    FlatSawn,
    /// Growth rings stand on edge: its width moves radially, about half as much.
    QuarterSawn,
    /// Not known, or mixed: anything between the two.
    #[default]
    Unknown,
}

/// Why a question about wood has no answer.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum WoodError {
    /// A number is outside the range the source covers, or not a number.
    #[error("{parameter} is {value:?}: it must be a number from {least:?} to {most:?} {unit}")]
    OutOfRange {
        /// What is wrong, by its path.
        parameter: &'static str,
        /// The offending value.
        value: f64,
        /// The least that will do.
        least: f64,
        /// The most that will do.
        most: f64,
        /// The unit of all three.
        unit: &'static str,
    },
    /// No species has this identifier.
    #[error("species is `{id}`: it must be one of {}", known())]
    UnknownSpecies {
        /// The identifier given.
        id: String,
    },
}

fn known() -> String {
    SPECIES.map(|species| species.id).join(", ")
}

fn check(
    parameter: &'static str,
    value: f64,
    (least, most): (f64, f64),
    unit: &'static str,
) -> Result<f64, WoodError> {
    if value >= least && value <= most {
        return Ok(value);
    }
    Err(WoodError::OutOfRange {
        parameter,
        value,
        least,
        most,
        unit,
    })
}

/// Change in a size across the grain, in the unit of `initial_mm`; negative when
/// the wood dries.
///
/// ```text
/// change = D C (M_to - M_from)
/// ```
///
/// `initial_mm` is the size at `moisture_from`, 0 to 100,000; `coefficient` the
/// fraction per percentage point, 0 to 0.02; moisture contents in percent, 6 to
/// 14. Source: Wood Handbook, FPL-GTR-190, chapter 13.
///
/// # Errors
/// [`WoodError::OutOfRange`]: outside 6 to 14 % the coefficients do not hold;
/// for wood worked green use [`shrinkage_to`].
///
/// ```
/// use oddment::wood::dimensional_change;
///
/// // The handbook's white fir board.
/// let wider = dimensional_change(232.0, 0.00245, 8.0, 11.0)?;
/// assert!((wider - 1.7052).abs() < 1e-12);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn dimensional_change(
    initial_mm: f64,
    coefficient: f64,
    moisture_from: f64,
    moisture_to: f64,
) -> Result<f64, WoodError> {
    let size = check("initial_mm", initial_mm, (0.0, 100_000.0), "mm")?;
    let c = check("coefficient", coefficient, (0.0, 0.02), "per % moisture")?;
    let range = COEFFICIENT_MOISTURE;
    let from = check("moisture_from", moisture_from, range, "% moisture content")?;
    let to = check("moisture_to", moisture_to, range, "% moisture content")?;
    Ok(size * c * (to - from))
}

/// The least and greatest change coefficient the handbook supports for a board,
/// as a fraction of its width per percentage point of moisture.
///
/// ```text
/// C from Table 13-5,   and   S / 28.5 / 100 from Table 4-3 or 4-4
/// ```
///
/// For most woods the two nearly agree; for mahogany they differ by two thirds. The
/// ends coincide for woods with no shrinkage figure. [`Cut::Unknown`] spans
/// both directions.
///
/// ```
/// use oddment::wood::{Cut, coefficient_range, species};
///
/// let (low, high) = coefficient_range(species("mahogany")?, Cut::FlatSawn);
/// assert!((low - 0.0014386).abs() < 1e-7);
/// assert_eq!(high, 0.00238);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
#[must_use]
pub fn coefficient_range(species: &Species, cut: Cut) -> (f64, f64) {
    let pair = |table: f64, shrinkage: Option<f64>| {
        let other = shrinkage.map_or(table, |s| s / SHRINKAGE_SPAN / 100.0);
        (table.min(other), table.max(other))
    };
    let radial = pair(species.change.radial, species.shrinkage.map(|s| s.radial));
    let tangential = pair(
        species.change.tangential,
        species.shrinkage.map(|s| s.tangential),
    );
    match cut {
        Cut::FlatSawn => tangential,
        Cut::QuarterSawn => radial,
        Cut::Unknown => (radial.0.min(tangential.0), radial.1.max(tangential.1)),
    }
}

/// Shrinkage from green to a moisture content, percent of the green size.
///
/// ```text
/// S_x = S_0 (1 - x / 30),   0 at or above fibre saturation
/// ```
///
/// `s0_percent` is the green-to-ovendry shrinkage, 0 to 100; `moisture` in
/// percent, 0 to 300. For pieces built of unseasoned wood. Source: Wood
/// Handbook, FPL-GTR-190, eq. 4-9, with 30 % for fibre saturation.
///
/// # Errors
/// [`WoodError::OutOfRange`].
///
/// ```
/// use oddment::wood::shrinkage_to;
///
/// // Flat-sawn white oak worked green and now at 9 %.
/// assert!((shrinkage_to(10.5, 9.0)? - 7.35).abs() < 1e-12);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn shrinkage_to(s0_percent: f64, moisture: f64) -> Result<f64, WoodError> {
    let s0 = check("s0_percent", s0_percent, (0.0, 100.0), "%")?;
    let x = check("moisture", moisture, (0.0, 300.0), "% moisture content")?;
    Ok((s0 * (1.0 - x / FIBRE_SATURATION)).max(0.0))
}

/// Moisture content, percent, that wood settles at in air of a given temperature
/// (°C, -1.1 to 132.2) and relative humidity (0 to 1).
///
/// ```text
/// EMC = 1800 / W [ K h / (1 - K h)
///                  + (K1 K h + 2 K1 K2 K^2 h^2) / (1 + K1 K h + K1 K2 K^2 h^2) ]
/// W  = 349  + 1.29 T     + 0.0135 T^2
/// K  = 0.805 + 0.000736 T - 0.00000273 T^2
/// K1 = 6.27 - 0.00938 T  - 0.000303 T^2
/// K2 = 1.91 + 0.0407 T   - 0.000293 T^2
/// ```
///
/// Good to about half a percentage point; the handbook's own table runs 0.4
/// below it in warm air. Above 95 % humidity it is an extrapolation. Source: Wood
/// Handbook, FPL-GTR-190, eq. 4-5 in Celsius.
///
/// # Errors
/// [`WoodError::OutOfRange`].
///
/// ```
/// use oddment::wood::equilibrium_moisture;
///
/// assert!((equilibrium_moisture(21.0, 0.65)? - 12.0).abs() < 0.05);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn equilibrium_moisture(temperature_c: f64, relative_humidity: f64) -> Result<f64, WoodError> {
    let t = check(
        "temperature_c",
        temperature_c,
        EQUILIBRIUM_TEMPERATURE,
        "°C",
    )?;
    let h = check(
        "relative_humidity",
        relative_humidity,
        (0.0, 1.0),
        "(a fraction, not a percentage)",
    )?;
    let w = 349.0 + 1.29 * t + 0.0135 * t * t;
    let k = 0.805 + 0.000_736 * t - 0.000_002_73 * t * t;
    let k1 = 6.27 - 0.009_38 * t - 0.000_303 * t * t;
    let k2 = 1.91 + 0.0407 * t - 0.000_293 * t * t;
    Ok(sorption(w, k * h, k1, k2))
}

/// The common part of eq. 4-5, whatever the scale of temperature.
fn sorption(w: f64, kh: f64, k1: f64, k2: f64) -> f64 {
    let first = k1 * kh;
    let second = k1 * k2 * kh * kh;
    1_800.0 / w * (kh / (1.0 - kh) + (first + 2.0 * second) / (1.0 + first + second))
}

/// How far out of round a solid top made round should now be, least and
/// greatest, in millimetres per metre of diameter.
///
/// ```text
/// 1000 C (moisture when made - moisture now)
/// ```
///
/// `moisture_fall` in percentage points, -8 to 8 (both ends must lie between 6
/// and 14 %). The answer is positive for a top now drier, **shorter across the
/// grain** than along it, and negative for one now damper. Lengthwise movement
/// is left out: see [`round_top`]. Source as for [`coefficient_range`].
///
/// # Errors
/// [`WoodError::OutOfRange`].
///
/// ```
/// use oddment::wood::{Cut, predicted_out_of_round_mm_per_m, species};
///
/// let beech = species("american-beech")?;
/// let (_, high) = predicted_out_of_round_mm_per_m(beech, Cut::FlatSawn, 4.0)?;
/// assert!((high - 17.24).abs() < 1e-12);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn predicted_out_of_round_mm_per_m(
    species: &Species,
    cut: Cut,
    moisture_fall: f64,
) -> Result<(f64, f64), WoodError> {
    let fall = check_fall(moisture_fall)?;
    Ok(scaled(coefficient_range(species, cut), 1_000.0 * fall))
}

fn check_fall(moisture_fall: f64) -> Result<f64, WoodError> {
    let most = COEFFICIENT_MOISTURE.1 - COEFFICIENT_MOISTURE.0;
    check(
        "moisture_fall",
        moisture_fall,
        (-most, most),
        "percentage points",
    )
}

fn scaled((low, high): (f64, f64), by: f64) -> (f64, f64) {
    let (a, b) = (low * by, high * by);
    (a.min(b), a.max(b))
}

/// The moisture fall, in percentage points, that would account for a top being
/// `out_of_round_mm_per_m` (-1000 to 1000) shorter across the grain: least and
/// greatest.
///
/// ```text
/// out of round / (1000 C)
/// ```
///
/// Answers beyond 8 points are outside the coefficients' range and say that
/// drying in use does not explain the top by itself. Source as for
/// [`coefficient_range`].
///
/// # Errors
/// [`WoodError::OutOfRange`].
///
/// ```
/// use oddment::wood::{Cut, moisture_fall_for, species};
///
/// // 51 inches one way and 50 the other, in mahogany.
/// let top = species("mahogany")?;
/// let (low, high) = moisture_fall_for(top, Cut::FlatSawn, 1_000.0 / 51.0)?;
/// assert!((low - 8.2386).abs() < 1e-4 && (high - 13.6298).abs() < 1e-4);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn moisture_fall_for(
    species: &Species,
    cut: Cut,
    out_of_round_mm_per_m: f64,
) -> Result<(f64, f64), WoodError> {
    let seen = check(
        "out_of_round_mm_per_m",
        out_of_round_mm_per_m,
        (-1_000.0, 1_000.0),
        "mm per m",
    )?;
    let (low, high) = coefficient_range(species, cut);
    // Every coefficient in the table is positive; a caller's own may not be.
    let ends = (1.0 / low.max(1e-6), 1.0 / high.max(1e-6));
    Ok(scaled(ends, seen / 1_000.0))
}

/// The two diameters of a top made round, after its moisture has changed.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct RoundTop {
    /// Diameter across the grain, mm: least and greatest.
    pub across_mm: (f64, f64),
    /// Diameter along the grain, mm: least and greatest.
    pub along_mm: (f64, f64),
}

/// The diameters of a solid top that was `diameter_mm` (0 to 100,000) all round
/// before a fall of `moisture_fall` percentage points (-8 to 8).
///
/// ```text
/// across = D (1 - C fall),   along = D (1 - S_L fall / 28.5 / 100)
/// ```
///
/// where S_L is [`LENGTHWISE_SHRINKAGE`].
///
/// # Errors
/// [`WoodError::OutOfRange`].
///
/// ```
/// use oddment::wood::{Cut, round_top, species};
///
/// let top = round_top(600.0, species("black-walnut")?, Cut::FlatSawn, 4.0)?;
/// assert!((top.across_mm.0 - 593.424).abs() < 1e-9);
/// assert!(top.along_mm.0 > 599.8);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn round_top(
    diameter_mm: f64,
    species: &Species,
    cut: Cut,
    moisture_fall: f64,
) -> Result<RoundTop, WoodError> {
    let size = check("diameter_mm", diameter_mm, (0.0, 100_000.0), "mm")?;
    let fall = check_fall(moisture_fall)?;
    let after = |coefficients| {
        let (low, high) = scaled(coefficients, size * fall);
        (size - high, size - low)
    };
    let (least, most) = LENGTHWISE_SHRINKAGE;
    let lengthwise = |s: f64| s / SHRINKAGE_SPAN / 100.0;
    Ok(RoundTop {
        across_mm: after(coefficient_range(species, cut)),
        along_mm: after((lengthwise(least), lengthwise(most))),
    })
}
