//! What one print of each class may serve, what that is worth, and what no choice of it betters.

pub(crate) mod anywhere;
pub(crate) mod best_plan;
pub(crate) mod bound;
pub(crate) mod enumerate;
pub(crate) mod lp;
pub(crate) mod pool;
pub(crate) mod price;
pub(crate) mod prices;
pub(crate) mod relaxed;
pub(crate) mod supply;
