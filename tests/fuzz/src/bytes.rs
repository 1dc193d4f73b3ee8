//! Decisions read from bytes.

/// Reads decisions from bytes; zeroes for ever after the end.
#[derive(Debug)]
pub struct Bytes<'a> {
    rest: &'a [u8],
}

impl<'a> Bytes<'a> {
    /// Reads from the beginning.
    pub fn new(bytes: &'a [u8]) -> Self {
        Self { rest: bytes }
    }

    /// Whether all bytes are used up.
    pub fn is_empty(&self) -> bool {
        self.rest.is_empty()
    }

    /// The next byte.
    pub fn byte(&mut self) -> u8 {
        match self.rest.split_first() {
            Some((first, rest)) => {
                self.rest = rest;
                *first
            }
            None => 0,
        }
    }

    /// A number below `bound`, or 0 when that is 0.
    pub fn below(&mut self, bound: usize) -> usize {
        let number = if bound > 256 {
            usize::from(u16::from_le_bytes([self.byte(), self.byte()]))
        } else {
            usize::from(self.byte())
        };
        number % bound.max(1)
    }

    /// True once in `times`.
    pub fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 1
    }

    /// A weight: 0, one of moderate size, or a power of two down to 2^-1022.
    pub fn weight(&mut self, extreme: bool) -> f64 {
        match (self.byte(), extreme) {
            (0..=31, _) => 0.0,
            (byte @ 224..=255, true) => {
                f64::from_bits(((1023 - 33 * u64::from(byte - 224)).max(1)) << 52)
            }
            (byte, _) => f64::from(byte),
        }
    }

    /// A row of probabilities.
    pub fn row(&mut self, states: usize, extreme: bool) -> Vec<f64> {
        let mut row: Vec<f64> = (0..states).map(|_| self.weight(extreme)).collect();
        let sum: f64 = row.iter().sum();
        if sum > 0.0 {
            row.iter_mut().for_each(|entry| *entry /= sum);
        } else {
            row[0] = 1.0;
        }
        row
    }

    /// A number in [0, 1], with the ends likely.
    pub fn chance(&mut self) -> f64 {
        f64::from(self.byte().saturating_sub(20).min(215)) / 215.0
    }
}
