//! Answers to questions about cutting, shared by all that is planned in one run.
//!
//! An answer depends on its question alone: the sheets, the pieces and the budget. So it does not matter who asks
//! first, and tasks that run side by side come to the same plans as tasks that run one after the other.

use std::collections::HashMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use crate::cutting::{Kind, Stop};
use crate::fabric::Cut;
use crate::planning::cut_print::Cutting;
use crate::planning::holding::SheetKind;
use crate::planning::instance::{PartKey, Size};
use crate::planning::plan::Verdict;

/// A question, free of how an instance numbers its sizes.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Question {
    pub(crate) sheets: Vec<SheetKind>,
    /// Whether all the sheets are opened anyway.
    pub(crate) all: bool,
    /// The budget.
    pub(crate) steps: u64,
    pub(crate) pieces: Vec<Wanted>,
}

/// Pieces alike.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(crate) struct Wanted {
    pub(crate) kind: Kind,
    /// Cuts of fabric they may come from; any when empty.
    pub(crate) from: Vec<Cut>,
    pub(crate) count: u32,
}

/// As an instance asks: sheets, turning, whether all the sheets are opened anyway, budget, pieces by size.
pub(crate) type Asked = (Vec<SheetKind>, bool, bool, u64, Vec<u32>);

/// The answers of one task in the numbers of one list of sizes.
pub(crate) type Known = HashMap<Asked, Arc<Cutting>>;

/// What all tasks of a run share.
#[derive(Default)]
struct Shared {
    cuttings: Mutex<HashMap<Question, Arc<Cutting>>>,
    /// Verdicts on parts that no rule between fabrics ties, by what such a part is.
    verdicts: Mutex<HashMap<PartKey, Verdict>>,
}

/// The answers one task knows, and the way to those of all others.
#[derive(Default)]
pub(crate) struct Answers {
    shared: Arc<Shared>,
    pub(super) by_sizes: HashMap<Vec<Size>, Known>,
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

    /// The verdict on a part, if it is known.
    pub(crate) fn verdict(&self, part: &PartKey) -> Option<Verdict> {
        held(&self.shared.verdicts).get(part).copied()
    }

    /// Remembers the verdict on a part, unless a stop has cut it short.
    pub(crate) fn keep_verdict(&self, part: PartKey, verdict: Verdict) {
        if verdict != Verdict::Undecided || !self.stop.seen() {
            held(&self.shared.verdicts).insert(part, verdict);
        }
    }

    pub(super) fn store(&self) -> Store {
        Store(Arc::clone(&self.shared))
    }
}

/// The answers of all tasks.
pub(super) struct Store(Arc<Shared>);

impl Store {
    /// For a task on one thread beside those that it is of.
    pub(super) fn answers(&self, stop: &Stop) -> Answers {
        Answers { shared: Arc::clone(&self.0), ..Answers::new(stop, 1) }
    }

    /// The answer to `question`, worked out by `work_out` where nobody has asked before. An answer that is not to be
    /// kept comes as an error.
    pub(super) fn ask(
        &self,
        question: Question,
        work_out: impl FnOnce(&Question) -> Result<Cutting, Cutting>,
    ) -> Result<Arc<Cutting>, Cutting> {
        if let Some(known) = held(&self.0.cuttings).get(&question) {
            return Ok(Arc::clone(known));
        }
        let answer = Arc::new(work_out(&question)?);
        held(&self.0.cuttings).insert(question, Arc::clone(&answer));
        Ok(answer)
    }
}

/// A task that panicked has left nothing half done in a map.
fn held<T>(of: &Mutex<T>) -> MutexGuard<'_, T> {
    of.lock().unwrap_or_else(PoisonError::into_inner)
}
