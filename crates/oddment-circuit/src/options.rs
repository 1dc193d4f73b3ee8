//! How to compile.

use crate::evidence::Evidence;

/// The largest circuit compiled unless the caller says otherwise, in estimated operations.
pub const DEFAULT_LIMIT: u64 = 12_000_000;

/// How to compile.
#[derive(Debug, Clone, Copy)]
pub struct CompileOptions<'a> {
    /// Whether every number of the network stays changeable and differentiable. When false, equal
    /// numbers are folded into constants and the circuit is smaller.
    pub keep_parameters: bool,
    /// Whether numbers of one distribution that are equal in every lane become one parameter, which
    /// makes the circuit smaller where tables repeat themselves. Its derivative is then by all of
    /// them together.
    pub tie_equal: bool,
    /// Refuse circuits estimated to need more operations than this.
    pub limit: u64,
    /// States that this evidence rules out are left out of the circuit. The evidence itself must
    /// still be given with each query, and later queries may not allow what it ruled out.
    pub evidence: Option<&'a Evidence>,
}

impl Default for CompileOptions<'_> {
    fn default() -> Self {
        Self {
            keep_parameters: true,
            tie_equal: false,
            limit: DEFAULT_LIMIT,
            evidence: None,
        }
    }
}
