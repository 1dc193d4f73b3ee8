//! Independent oracles and comparison helpers shared by the integration tests.
