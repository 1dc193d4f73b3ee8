//! Integration tests of the workspace.
