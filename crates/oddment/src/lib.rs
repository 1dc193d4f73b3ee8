//! The science of the piece.
