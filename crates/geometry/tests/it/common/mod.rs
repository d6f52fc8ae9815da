//! What several tests share.

pub(crate) mod invented;
pub(crate) mod taped;
