//! Answers to questions about cutting, shared by all that is planned in one run.
//!
//! An answer depends on its question alone: the sheets, the pieces and the budget. So it does not matter who asks
//! first, and tasks that run side by side come to the same plans as tasks that run one after the other.

use std::collections::{HashMap, HashSet};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::cutting::Stop;
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{PartKey, Size};
use crate::planning::oracle::cut_print::{Cutting, Question};
use crate::planning::plan::Verdict;

/// As an instance asks: sheets, turning, whether all the sheets are opened anyway, budget, pieces by size.
pub(crate) type Asked = (Vec<SheetKind>, bool, bool, u64, Vec<u32>);

/// The answers of one task in the numbers of one list of sizes.
pub(crate) type Known = HashMap<Asked, Arc<Cutting>>;

/// What all tasks of a run share.
#[derive(Default)]
struct Shared {
    cuttings: Mutex<Recent>,
    /// Verdicts on parts that no rule between fabrics ties, by what such a part is, with the work each took.
    verdicts: Mutex<HashMap<PartKey, (Verdict, u64)>>,
}

/// The answers asked for most recently, in two generations: when the younger is full, the older is forgotten. An answer
/// that was forgotten is worked out again, and is the same.
#[derive(Default)]
struct Recent {
    younger: HashMap<Question, Arc<Cutting>>,
    older: HashMap<Question, Arc<Cutting>>,
    /// What the younger weighs.
    weight: usize,
}

/// What a generation may weigh, a number or two to each sheet, piece and cut: about 60 MB.
const MOST_WEIGHT: usize = 600_000;

impl Recent {
    fn get(&mut self, question: &Question) -> Option<Arc<Cutting>> {
        if let Some(answer) = self.younger.get(question) {
            return Some(Arc::clone(answer));
        }
        let (question, answer) = self.older.remove_entry(question)?;
        self.keep(question, Arc::clone(&answer));
        Some(answer)
    }

    fn keep(&mut self, question: Question, answer: Arc<Cutting>) {
        self.weight += question.sheets.len() + question.pieces.len() + answer.weight();
        self.younger.insert(question, answer);
        if self.weight > MOST_WEIGHT {
            self.older = std::mem::take(&mut self.younger);
            self.weight = 0;
        }
    }
}

/// The answers one task knows, and the way to those of all others.
#[derive(Default)]
pub(crate) struct Answers {
    shared: Arc<Shared>,
    pub(crate) by_sizes: HashMap<Vec<Size>, Known>,
    /// Parts whose verdicts this task has asked for.
    decided: HashSet<PartKey>,
    /// How many questions were new to this task: a measure of work that is the same on every machine.
    pub(crate) fresh: u64,
    /// Ends all questions, and whoever asks them.
    pub(crate) stop: Stop,
    /// On how many threads the task may work.
    pub(crate) threads: usize,
}

impl Answers {
    /// None yet; nothing more is worked out once `stop` is seen.
    pub(crate) fn new(stop: &Stop, threads: usize) -> Answers {
        Answers { stop: stop.clone(), threads: threads.max(1), ..Answers::default() }
    }

    /// For a task on one thread that may run beside others.
    pub(crate) fn beside(&self) -> Answers {
        self.store().answers(&self.stop)
    }

    /// Takes over what a task beside this one has learned and how much it has asked.
    pub(crate) fn join(&mut self, other: Answers) {
        self.fresh += other.fresh;
        for (sizes, known) in other.by_sizes {
            let all = self.by_sizes.entry(sizes).or_default();
            for (asked, answer) in known {
                // Tasks may learn different ways to cut the same: the cheapest is kept.
                let cost = |answer: &Cutting| answer.cost().unwrap_or(i64::MAX);
                match all.get_mut(&asked) {
                    Some(had) if cost(had) <= cost(&answer) => {}
                    Some(had) => *had = answer,
                    None => drop(all.insert(asked, answer)),
                }
            }
        }
    }

    /// The verdict on a part, if it is known. When another task has worked it out, this one counts the work as its own: what
    /// it may still ask does not hang on who was first.
    pub(crate) fn verdict(&mut self, part: &PartKey) -> Option<Verdict> {
        let (verdict, fresh) = held(&self.shared.verdicts).get(part).copied()?;
        if self.decided.insert(part.clone()) {
            self.fresh += fresh;
        }
        Some(verdict)
    }

    /// Remembers the verdict on a part, for which so many questions were put, unless a stop has cut it short.
    pub(crate) fn keep_verdict(&mut self, part: PartKey, verdict: Verdict, fresh: u64) {
        self.decided.insert(part.clone());
        if verdict != Verdict::Undecided || !self.stop.seen() {
            held(&self.shared.verdicts).insert(part, (verdict, fresh));
        }
    }

    pub(crate) fn store(&self) -> Store {
        Store(Arc::clone(&self.shared))
    }
}

/// The answers of all tasks.
pub(crate) struct Store(Arc<Shared>);

impl Store {
    /// For a task on one thread beside those that it is of.
    pub(crate) fn answers(&self, stop: &Stop) -> Answers {
        Answers { shared: Arc::clone(&self.0), ..Answers::new(stop, 1) }
    }

    /// The answer to `question`, worked out by `work_out` where nobody has asked before. An answer that is not to be
    /// kept comes as an error.
    pub(crate) fn ask(
        &self,
        question: Question,
        work_out: impl FnOnce(&Question) -> Result<Cutting, Cutting>,
    ) -> Result<Arc<Cutting>, Cutting> {
        if let Some(known) = held(&self.0.cuttings).get(&question) {
            return Ok(known);
        }
        let answer = Arc::new(work_out(&question)?);
        held(&self.0.cuttings).keep(question, Arc::clone(&answer));
        Ok(answer)
    }
}

/// A task that panicked has left nothing half done in a map.
fn held<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    of.lock().unwrap_or_else(PoisonError::into_inner)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn question(steps: u64) -> Question {
        Question { sheets: Vec::new(), all: false, steps, pieces: Vec::new() }
    }

    #[test]
    fn what_is_asked_again_is_kept_and_no_more_than_two_generations_are() {
        let mut recent = Recent::default();
        let many = MOST_WEIGHT as u64 * 3;
        for steps in 0..many {
            recent.keep(question(steps), Arc::new(Cutting::Unknown));
            assert!(recent.get(&question(0)).is_some(), "asked for at every step");
        }
        assert!(recent.younger.len() + recent.older.len() <= 2 * (MOST_WEIGHT + 1));
        assert!(recent.get(&question(1)).is_none(), "long not asked for");
        assert!(recent.get(&question(many - 1)).is_some());
    }

    #[test]
    fn a_verdict_costs_each_task_once_whoever_has_worked_it_out() {
        let part = (Vec::new(), Vec::new());
        let mut first = Answers::new(&Stop::never(), 1);
        let mut second = first.beside();
        assert_eq!(first.verdict(&part), None);
        first.fresh += 40;
        first.keep_verdict(part.clone(), Verdict::Impossible, 40);
        for answers in [&mut first, &mut second] {
            for _ in 0..2 {
                assert_eq!(answers.verdict(&part), Some(Verdict::Impossible));
            }
            assert_eq!(answers.fresh, 40);
        }
    }

    #[test]
    fn a_forgotten_answer_is_worked_out_again() {
        let answers = Answers::new(&Stop::never(), 1);
        let mut times = 0;
        let mut ask = |steps| {
            let known = answers.store().ask(question(steps), |_| {
                times += 1;
                Ok(Cutting::Unknown)
            });
            assert!(matches!(known.as_deref(), Ok(Cutting::Unknown)));
        };
        (0..3).for_each(|_| ask(7));
        held(&answers.shared.cuttings).younger.clear();
        ask(7);
        assert_eq!(times, 2);
    }
}
