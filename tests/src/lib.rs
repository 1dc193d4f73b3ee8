//! Independent oracles and comparison helpers shared by the integration tests.

pub mod close;
pub mod drop_leaf;
pub mod dual;
pub mod generate;
pub mod generated_pack;
pub mod oracle;
pub mod permute;
pub mod piece_oracle;
pub mod property;
pub mod query;
pub mod twofold;
pub mod what_if;
