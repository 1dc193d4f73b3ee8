//! The species table.

use super::WoodError;
use serde::Serialize;

/// Movement in the two directions across the grain.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Directions {
    /// Towards the centre of the tree.
    pub radial: f64,
    /// Along the growth rings.
    pub tangential: f64,
}

/// One row of the handbook's tables.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Species {
    /// Stable identifier, such as `black-walnut`.
    pub id: &'static str,
    /// The handbook's name for the wood.
    pub name: &'static str,
    /// Fraction of the width per percentage point of moisture, 6 to 14 %.
    pub change: Directions,
    /// Shrinkage from green to ovendry, percent, where a figure was found.
    pub shrinkage: Option<Directions>,
    /// Shrinkage in volume from green to ovendry, percent.
    pub volumetric: Option<f64>,
    /// Where the figures come from.
    pub source: &'static str,
}

const DOMESTIC: &str = "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), \
                        Table 13-5 (change) and Table 4-3 (shrinkage)";
const IMPORTED: &str = "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), \
                        Table 13-5 (change) and Table 4-4 (shrinkage, columns matched by order)";
const CHANGE_ONLY: &str = "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), \
                           Table 13-5 (change); no shrinkage figure found";
const WHITE_PINE: &str = "USDA Forest Products Laboratory, Wood Handbook, FPL-GTR-190 (2010), \
                          Table 13-5 (change); shrinkage from memory, unverified";

/// `shrinkage` is radial, tangential, volumetric; `change` radial, tangential.
const fn row(
    id: &'static str,
    name: &'static str,
    source: &'static str,
    shrinkage: [f64; 3],
    change: [f64; 2],
) -> Species {
    Species {
        id,
        name,
        change: Directions {
            radial: change[0],
            tangential: change[1],
        },
        shrinkage: Some(Directions {
            radial: shrinkage[0],
            tangential: shrinkage[1],
        }),
        volumetric: Some(shrinkage[2]),
        source,
    }
}

const fn change_only(id: &'static str, name: &'static str, change: [f64; 2]) -> Species {
    Species {
        shrinkage: None,
        volumetric: None,
        ..row(id, name, CHANGE_ONLY, [0.0; 3], change)
    }
}

/// The species known, in no particular order. White and red oak carry the change
/// coefficients of "commercial white" and "commercial red"; `mahogany` is the
/// true American one, *Swietenia macrophylla*, `african-mahogany` is *Khaya*.
#[rustfmt::skip]
pub const SPECIES: [Species; 23] = [
    row("mahogany", "true mahogany", IMPORTED, [3.0, 4.1, 7.8], [0.00172, 0.00238]),
    row("african-mahogany", "African mahogany", IMPORTED, [2.5, 4.5, 8.8], [0.00141, 0.00201]),
    row("black-walnut", "black walnut", DOMESTIC, [5.5, 7.8, 12.8], [0.00190, 0.00274]),
    row("black-cherry", "black cherry", DOMESTIC, [3.7, 7.1, 11.5], [0.00126, 0.00248]),
    row("white-oak", "white oak", DOMESTIC, [5.6, 10.5, 16.3], [0.00180, 0.00365]),
    row("red-oak", "northern red oak", DOMESTIC, [4.0, 8.6, 13.7], [0.00158, 0.00369]),
    row("sugar-maple", "sugar maple", DOMESTIC, [4.8, 9.9, 14.7], [0.00165, 0.00353]),
    row("yellow-poplar", "yellow-poplar", DOMESTIC, [4.6, 8.2, 12.7], [0.00158, 0.00289]),
    row("eastern-white-pine", "eastern white pine", WHITE_PINE, [2.1, 6.1, 8.2], [0.00071, 0.00212]),
    row("longleaf-pine", "longleaf pine", DOMESTIC, [5.1, 7.5, 12.2], [0.00176, 0.00263]),
    row("yellow-birch", "yellow birch", DOMESTIC, [7.3, 9.5, 16.8], [0.00256, 0.00338]),
    row("paper-birch", "paper birch", DOMESTIC, [6.3, 8.6, 16.2], [0.00219, 0.00304]),
    row("american-beech", "American beech", DOMESTIC, [5.5, 11.9, 17.2], [0.00190, 0.00431]),
    row("white-ash", "white ash", DOMESTIC, [4.9, 7.8, 13.3], [0.00169, 0.00274]),
    row("american-chestnut", "American chestnut", DOMESTIC, [3.4, 6.7, 11.6], [0.00116, 0.00234]),
    row("butternut", "butternut", DOMESTIC, [3.4, 6.4, 10.6], [0.00116, 0.00223]),
    row("american-elm", "American elm", DOMESTIC, [4.2, 9.5, 14.6], [0.00144, 0.00338]),
    row("american-sycamore", "American sycamore", DOMESTIC, [5.0, 8.4, 14.1], [0.00172, 0.00296]),
    row("basswood", "basswood", DOMESTIC, [6.6, 9.3, 15.8], [0.00230, 0.00330]),
    row("eastern-redcedar", "eastern redcedar", DOMESTIC, [3.1, 4.7, 7.8], [0.00106, 0.00162]),
    row("atlantic-white-cedar", "Atlantic white-cedar", DOMESTIC, [2.9, 5.4, 8.8], [0.00099, 0.00187]),
    change_only("teak", "teak", [0.00101, 0.00186]),
    change_only("spanish-cedar", "Spanish-cedar", [0.00141, 0.00219]),
];

/// The species with this identifier.
///
/// # Errors
/// [`WoodError::UnknownSpecies`], listing the identifiers.
///
/// ```
/// use oddment::wood::species;
///
/// assert_eq!(species("black-walnut")?.change.tangential, 0.00274);
/// # Ok::<(), oddment::wood::WoodError>(())
/// ```
pub fn species(id: &str) -> Result<&'static Species, WoodError> {
    const TABLE: &[Species] = &SPECIES;
    TABLE
        .iter()
        .find(|species| species.id == id)
        .ok_or_else(|| WoodError::UnknownSpecies { id: id.to_owned() })
}
