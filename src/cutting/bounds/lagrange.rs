//! Prices for pieces of which only so many are wanted: the value table of prices p, plus what the wanted pieces lose
//! by them, bounds every cutting with limited counts. The prices are moved until that bound is as low as it gets.
//!
//! Lagrangian relaxation of the limits, by subgradient steps (Held, Wolfe and Crowder 1974); for guillotine cutting
//! compare the state space relaxation of Christofides and Hadjiconstantinou (1995), improved by Velasco and Uchoa (2019).

/// Prices are whole multiples of this fraction of a value: fine enough that rounding costs nothing noticeable.
pub(crate) const SCALE: i64 = 64;
/// Rounds without a better bound after which steps are halved.
const PATIENCE: u32 = 6;
/// Most rounds.
const MOST_ROUNDS: u32 = 150;

/// Prices and the bound they give.
#[derive(Clone, Debug)]
pub(crate) struct Prices {
    /// Price of one piece of each size, in units of 1 / [`SCALE`] of a value; at most the value.
    pub(crate) prices: Vec<i64>,
    /// What all wanted pieces together lose by the prices: the bound is this plus the table's whole.
    pub(crate) base: i64,
    /// That bound, in whole values, rounded down.
    pub(crate) bound: i64,
}

impl Prices {
    /// Prices equal to the values.
    pub(crate) fn plain(worth: &[i64]) -> Prices {
        Prices { prices: worth.iter().map(|v| v * SCALE).collect(), base: 0, bound: i64::MAX }
    }
}

/// What one round's prices give.
pub(crate) struct Round {
    /// The most that any cutting without limits is worth at these prices.
    pub(crate) whole: i64,
    /// How many pieces of each size it takes.
    pub(crate) taken: Vec<u32>,
    /// The best value known by now of a cutting within the limits.
    pub(crate) known: i64,
}

/// Moves the prices to lower the bound on `worth` with at most `counts` pieces of each size, until it meets what is known or
/// `evaluate`, asked at every round's prices, declines.
pub(crate) fn lower(
    counts: &[u32],
    worth: &[i64],
    mut evaluate: impl FnMut(&[i64]) -> Option<Round>,
) -> Prices {
    let values: Vec<i64> = worth.iter().map(|v| v * SCALE).collect();
    let mut fines = vec![0i64; worth.len()];
    let mut best = Prices::plain(worth);
    let mut best_exact = i64::MAX;
    let (mut step, mut stale) = (128i128, 0);
    for _ in 0..MOST_ROUNDS {
        let prices: Vec<i64> = values.iter().zip(&fines).map(|(v, f)| v - f).collect();
        let Some(round) = evaluate(&prices) else { break };
        let base: i64 = fines.iter().zip(counts).map(|(f, &n)| f * i64::from(n)).sum();
        let exact = base + round.whole;
        if exact < best_exact {
            best_exact = exact;
            best = Prices { prices, base, bound: exact.div_euclid(SCALE) };
            stale = 0;
        } else {
            stale += 1;
            if stale >= PATIENCE {
                stale = 0;
                step /= 2;
                // Start again from the best prices.
                fines = values.iter().zip(&best.prices).map(|(v, p)| v - p).collect();
            }
        }
        if best.bound <= round.known || step == 0 {
            break;
        }
        let over: Vec<i64> =
            round.taken.iter().zip(counts).map(|(&t, &n)| i64::from(t) - i64::from(n)).collect();
        let moving: Vec<usize> = (0..over.len()).filter(|&s| over[s] > 0 || fines[s] > 0).collect();
        let length: i64 = moving.iter().map(|&s| over[s] * over[s]).sum();
        if length == 0 {
            break;
        }
        let distance = i128::from(exact - round.known.saturating_mul(SCALE));
        for s in moving {
            let change = step * distance * i128::from(over[s]) / (100 * i128::from(length));
            let fine = (i128::from(fines[s]) + change).clamp(0, i128::from(values[s]));
            fines[s] = i64::try_from(fine).expect("a fine is at most a value");
        }
    }
    best
}
