//! The same pieces cut kindly: leftovers worth keeping, few turns, few settings of the ruler.

pub(crate) mod friendly;
pub(crate) mod kindest;
pub(crate) mod leftover;
pub(crate) mod ways;
