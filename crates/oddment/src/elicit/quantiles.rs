//! Quantile judgements: values that a quantity stays below with stated chances.

use super::ElicitError;

/// The levels that can be judged; nobody can say more of the tails.
pub(super) const LEVELS: (f64, f64) = (0.001, 0.999);

/// The largest size of a value of a quantity, in any unit.
pub(super) const LARGEST_VALUE: f64 = 1e9;

/// The least size of a value that is not 0.
pub(super) const SMALLEST_VALUE: f64 = 1e-9;

/// What a range is taken to hold unless something else is said.
pub const CREDIBLE: f64 = 0.9;

/// Two to five values that a quantity stays below, each with its chance, both rising.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantiles(Vec<(f64, f64)>);

impl Quantiles {
    /// Checks levels (0.001 to 0.999, each once) and their values, of any size from
    /// 0.000000001 to a thousand million, or 0.
    ///
    /// # Errors
    /// Not two to five, a level or value out of range, or either not rising.
    ///
    /// ```
    /// use oddment::elicit::Quantiles;
    /// let stated = Quantiles::new(&[(0.05, 2.0), (0.5, 5.0), (0.95, 11.0)])?;
    /// assert_eq!(stated.points().len(), 3);
    /// let error = Quantiles::new(&[(0.25, 5.0), (0.75, 2.0)]).unwrap_err();
    /// assert_eq!(
    ///     error.to_string(),
    ///     "the 25 % value 5 is above the 75 % value 2: values must rise with their levels",
    /// );
    /// # Ok::<(), oddment::elicit::ElicitError>(())
    /// ```
    pub fn new(points: &[(f64, f64)]) -> Result<Self, ElicitError> {
        if !(2..=5).contains(&points.len()) {
            return Err(ElicitError::HowMany {
                given: points.len(),
            });
        }
        for (level, value) in points {
            if !(LEVELS.0..=LEVELS.1).contains(level) {
                return Err(ElicitError::Level { level: *level });
            }
            let size = value.abs();
            let sane = *value == 0.0 || (SMALLEST_VALUE..=LARGEST_VALUE).contains(&size);
            if !sane {
                return Err(ElicitError::NotAValue { value: *value });
            }
        }
        for pair in points.windows(2) {
            let (lower, upper) = (pair[0], pair[1]);
            if lower.0 >= upper.0 {
                return Err(ElicitError::LevelOrder {
                    before: lower.0,
                    level: upper.0,
                });
            }
            // Nobody tells values apart that are equal to twelve digits.
            let size = lower.1.abs().max(upper.1.abs());
            if upper.1 - lower.1 <= 1e-12 * size {
                return Err(ElicitError::Order { lower, upper });
            }
        }
        Ok(Self(points.to_vec()))
    }

    /// The lower quartile, the median and the upper quartile.
    ///
    /// # Errors
    /// As [`Quantiles::new`].
    ///
    /// ```
    /// use oddment::elicit::Quantiles;
    /// let stated = Quantiles::quartiles([0.25, 0.3, 0.35])?;
    /// assert_eq!(stated.points()[1], (0.5, 0.3));
    /// # Ok::<(), oddment::elicit::ElicitError>(())
    /// ```
    pub fn quartiles([lower, median, upper]: [f64; 3]) -> Result<Self, ElicitError> {
        Self::new(&[(0.25, lower), (0.5, median), (0.75, upper)])
    }

    /// A range that holds the quantity in a share `credible` (0.1 to 0.998) of cases, as often above
    /// as below it, and perhaps a best figure, taken for the median.
    ///
    /// # Errors
    /// [`ElicitError::Credible`], or as [`Quantiles::new`].
    ///
    /// ```
    /// use oddment::elicit::Quantiles;
    /// let stated = Quantiles::range(Some(0.15), [0.05, 0.4], 0.9)?;
    /// let levels: Vec<f64> = stated.points().iter().map(|(level, _)| *level).collect();
    /// assert!((levels[0] - 0.05).abs() < 1e-15 && levels[1] == 0.5);
    /// # Ok::<(), oddment::elicit::ElicitError>(())
    /// ```
    pub fn range(
        about: Option<f64>,
        [low, high]: [f64; 2],
        credible: f64,
    ) -> Result<Self, ElicitError> {
        if !(0.1..=0.998).contains(&credible) {
            return Err(ElicitError::Credible { credible });
        }
        let outside = 0.5 * (1.0 - credible);
        let mut points = vec![(outside, low)];
        points.extend(about.map(|about| (0.5, about)));
        points.push((1.0 - outside, high));
        Self::new(&points)
    }

    /// Levels and values.
    pub fn points(&self) -> &[(f64, f64)] {
        &self.0
    }

    /// Checks that every value is a chance, strictly between 0 and 1.
    pub(super) fn of_chances(&self) -> Result<(), ElicitError> {
        match self.0.iter().find(|(_, x)| !(*x > 0.0 && *x < 1.0)) {
            Some((_, value)) => Err(ElicitError::NotAChance { value: *value }),
            None => Ok(()),
        }
    }

    /// Checks that every value is above 0.
    pub(super) fn of_positive(&self) -> Result<(), ElicitError> {
        match self.0.iter().find(|(_, x)| *x <= 0.0) {
            Some((_, value)) => Err(ElicitError::NotPositive { value: *value }),
            None => Ok(()),
        }
    }

    /// The line through the values in some coordinate over the standard normal quantiles of their
    /// levels: the place of the median and the standard deviation, were they normal there.
    pub(super) fn line(&self, coordinate: impl Fn(f64) -> f64) -> (f64, f64) {
        let points: Vec<(f64, f64)> = self
            .0
            .iter()
            .map(|(level, value)| (standard_normal_quantile(*level), coordinate(*value)))
            .collect();
        let count = points.len() as f64;
        let mean_z = points.iter().map(|(z, _)| z).sum::<f64>() / count;
        let mean_y = points.iter().map(|(_, y)| y).sum::<f64>() / count;
        let (mut over, mut under) = (0.0, 0.0);
        for (z, y) in &points {
            over += (z - mean_z) * (y - mean_y);
            under += (z - mean_z) * (z - mean_z);
        }
        let slope = over / under;
        (mean_y - slope * mean_z, slope)
    }
}

/// What a standard normal number stays below with this chance.
fn standard_normal_quantile(level: f64) -> f64 {
    let normal = crate::density::Density::Normal { mean: 0.0, sd: 1.0 };
    normal.quantile(level).unwrap_or(0.0)
}
