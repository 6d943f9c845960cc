//! Quilts known to fit, as a person sees at once: is every one of them planned, and how long does it take?
//!
//! `cargo bench --bench tight -- [--count N]` names those that are not planned and prints a summary line.

use std::time::Instant;

use cutcloth::app::summary::Verdict;

#[path = "../tests/planted/mod.rs"]
mod planted;

fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let count = arguments.iter().position(|argument| argument == "--count");
    let count = count.and_then(|at| arguments.get(at + 1)?.parse().ok()).unwrap_or(300);
    let (mut solved, mut longest) = (0, 0.0f64);
    let start = Instant::now();
    for seed in 0..count {
        let one = Instant::now();
        match planted::verdict(&planted::planted(seed)) {
            Verdict::Fits => solved += 1,
            other => println!("seed {seed}: {other:?}"),
        }
        longest = longest.max(one.elapsed().as_secs_f64());
    }
    let all = start.elapsed().as_secs_f64();
    println!("{solved} of {count} planned in {all:.1} s, the longest in {longest:.2} s");
}
