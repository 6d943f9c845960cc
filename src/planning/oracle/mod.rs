//! What one print can give: each question put once, its answer remembered.
//!
//! "No" is always proved by the cutting engine; where its budget ended the answer is "unknown", which
//! counts as no when a plan is built and as yes in every bound, so that both stay true.

use std::sync::Arc;

use crate::cutting::{self, Layout, Stop};
use crate::planning::instance::holding::SheetKind;
use crate::planning::instance::{Class, Instance};
use crate::planning::oracle::answers::{Answers, Asked, Known, Store};
use crate::planning::oracle::cheapest_cut::cheapest_cut;
use crate::planning::oracle::cut_print::{CutSheet, Cutting, Question, Wanted, highest};
use crate::planning::side_by_side;

pub(crate) mod answers;
pub(crate) mod cheapest_cut;
pub(crate) mod cut_print;
pub(crate) mod openings;

/// Steps one question may take inside a search.
pub(crate) const QUICK: u64 = 200_000;
/// Steps for a look at one of very many ways to serve the sets; more where many pieces make each look longer.
const LIGHT: u64 = 20_000;
/// Steps for a question whose answer decides a verdict.
pub(crate) const THOROUGH: u64 = 3_000_000;
/// Answers and remembers.
pub(crate) struct Oracle<'a> {
    pub(crate) instance: &'a Instance,
    known: &'a mut Known,
    fresh: &'a mut u64,
    store: Store,
    stop: Stop,
    threads: usize,
    /// How many questions were put.
    pub(crate) asked: u64,
    /// True where there is so much to ask that columns are built with short looks.
    pub(crate) hurried: bool,
    /// As how many questions one about a print with yardage counts.
    pub(crate) yardage_counts: u64,
}

impl<'a> Oracle<'a> {
    pub(crate) fn new(instance: &'a Instance, answers: &'a mut Answers) -> Oracle<'a> {
        let (store, stop, threads) = (answers.store(), answers.stop.clone(), answers.threads);
        let known = answers.by_sizes.entry(instance.sizes.clone()).or_default();
        let fresh = &mut answers.fresh;
        Oracle { instance, known, fresh, store, stop, threads, asked: 0, hurried: false, yardage_counts: 1 }
    }

    /// True when the search is to end: from then on only what is known is answered.
    pub(crate) fn stopped(&self) -> bool {
        self.stop.seen()
    }

    /// How many questions were worked out anew so far.
    pub(crate) fn fresh(&self) -> u64 {
        *self.fresh
    }

    /// What ends the search.
    pub(crate) fn stop(&self) -> &Stop {
        &self.stop
    }

    /// Asks on several threads what will be asked here one after the other, so that the answers are at hand by then.
    /// Nothing else comes of it.
    pub(crate) fn in_advance<T: Sync>(&self, jobs: &[T], ask: impl Fn(&mut Oracle<'_>, &T) + Sync) {
        if self.threads < 2 || jobs.len() < 2 {
            return;
        }
        let (instance, store, stop) = (self.instance, &self.store, &self.stop);
        side_by_side::each(self.threads, jobs, |job| {
            if !stop.seen() {
                ask(&mut Oracle::new(instance, &mut store.answers(stop)), job);
            }
        });
    }

    /// Cuts what an assignment gives to one print of `class`: the search has found that it can be cut, so this is
    /// answered after a stop as well, only with less care.
    pub(crate) fn cut_in_the_end(&mut self, class: &Class, counts: &[u32]) -> Arc<Cutting> {
        // Where the search asked with a smaller budget and was told yes, that answer is remembered.
        let light = light(counts);
        let budgets = if self.stopped() { [light, QUICK, THOROUGH] } else { [THOROUGH, QUICK, light] };
        let stop = std::mem::take(&mut self.stop);
        let mut best = self.cheapest(class, counts, budgets[0]);
        for steps in &budgets[1..] {
            if best.cost().is_none() {
                best = self.cut(class, counts, *steps);
            }
        }
        self.stop = stop;
        if best.cost().is_none() { self.cut_back(class, counts).unwrap_or(best) } else { best }
    }

    /// Cuts `counts` pieces like [`Oracle::cut`], or as a short look has, or as was learned, where that opens less.
    pub(crate) fn cheapest(&mut self, class: &Class, counts: &[u32], steps: u64) -> Arc<Cutting> {
        let cut = self.cut(class, counts, steps);
        let question = (class.sheets.clone(), class.turn, false, light(counts), counts.to_vec());
        match (self.known.get(&question), cut.cost()) {
            (Some(known), Some(cost)) if known.cost().is_some_and(|known| known < cost) => Arc::clone(known),
            (Some(known), None) if known.cost().is_some() => Arc::clone(known),
            _ => cut,
        }
    }

    /// Learns a way to cut what is left of a column when some of it is not wanted: less of what is known.
    pub(crate) fn learn_less(&mut self, class: usize, bags: &[(usize, u32)]) {
        let counts = self.instance.pieces(bags);
        if let Some(cut) = self.cut_back(&self.instance.classes[class], &counts)
            && let Cutting::Yes { sheets, .. } = &*cut
        {
            self.learn(class, bags, sheets.clone());
        }
    }

    /// A way to cut more than these pieces, without what is too much.
    fn cut_back(&self, class: &Class, counts: &[u32]) -> Option<Arc<Cutting>> {
        let more = self.known.iter().filter(|((sheets, turn, all, _, known), _)| {
            *sheets == class.sheets
                && *turn == class.turn
                && !all
                && known.iter().zip(counts).all(|(k, c)| k >= c)
        });
        let (asked, answer) = more
            .filter(|(_, answer)| answer.cost().is_some())
            .min_by_key(|((.., steps, known), answer)| (answer.cost(), known.clone(), *steps))?;
        let Cutting::Yes { sheets, .. } = &**answer else { return None };
        let mut surplus: Vec<u32> = asked.4.iter().zip(counts).map(|(k, c)| k - c).collect();
        let mut kept = Vec::new();
        for sheet in sheets {
            let layout = cutting::cut_back(&sheet.layout, &mut surplus);
            let used = if class.sheets[sheet.kind].by_length { highest(&layout) } else { sheet.used };
            if !layout.pieces().is_empty() {
                kept.push(CutSheet { layout, used, ..*sheet });
            }
        }
        let cost = kept.iter().map(|sheet| class.sheets[sheet.kind].cost(sheet.used)).sum();
        Some(Arc::new(Cutting::Yes { cost, least: 0, sheets: kept }))
    }

    /// Cuts for one of the many columns that are built.
    pub(crate) fn cut_to_build(&mut self, class: &Class, counts: &[u32]) -> Arc<Cutting> {
        if self.hurried { self.cut_lightly(class, counts) } else { self.cut(class, counts, QUICK) }
    }

    /// Adds to what a short look has found a way to cut, without moving anything or opening more, and remembers it as
    /// what a short look would find.
    pub(crate) fn add(&mut self, class: &Class, before: &[u32], counts: &[u32]) -> Option<i64> {
        let question =
            |counts: &[u32]| (class.sheets.clone(), class.turn, false, light(counts), counts.to_vec());
        let new = question(counts);
        if let Some(cost) = self.known.get(&new).and_then(|known| known.cost()) {
            return Some(cost);
        }
        let known = Arc::clone(self.known.get(&question(before))?);
        let Cutting::Yes { cost, least, sheets } = &*known else { return None };
        if !class.whole_sheets() {
            return None; // more of a length opens more
        }
        let kinds = self.instance.kinds(class.turn);
        let more: Vec<u32> = counts.iter().zip(before).map(|(&all, &some)| all - some).collect();
        let layouts: Vec<&Layout> = sheets.iter().map(|sheet| &sheet.layout).collect();
        let may = |size, at: usize| self.instance.size_allowed(size, &class.sheets[sheets[at].kind]);
        let layouts = cutting::add(&layouts, &kinds, &more, may)?;
        let fuller = sheets.iter().zip(layouts).map(|(sheet, layout)| CutSheet { layout, ..sheet.clone() });
        let answer = Cutting::Yes { cost: *cost, least: *least, sheets: fuller.collect() };
        self.known.insert(new, Arc::new(answer));
        Some(*cost)
    }

    /// Remembers a way to cut what one print of a class serves as what a short look would find, if none as cheap is
    /// known. Returns the fabric it opens.
    pub(crate) fn learn(&mut self, class: usize, bags: &[(usize, u32)], sheets: Vec<CutSheet>) -> i64 {
        let class = &self.instance.classes[class];
        let counts = self.instance.pieces(bags);
        let cost = sheets.iter().map(|sheet| class.sheets[sheet.kind].cost(sheet.used)).sum();
        let question = (class.sheets.clone(), class.turn, false, light(&counts), counts);
        if let Some(known) =
            self.known.get(&question).and_then(|known| known.cost()).filter(|&known| known <= cost)
        {
            return known;
        }
        self.known.insert(question, Arc::new(Cutting::Yes { cost, least: 0, sheets }));
        cost
    }

    /// On how many threads it may work.
    pub(crate) fn threads(&self) -> usize {
        self.threads
    }

    /// Cuts with a short look.
    pub(crate) fn cut_lightly(&mut self, class: &Class, counts: &[u32]) -> Arc<Cutting> {
        self.cut(class, counts, light(counts))
    }

    /// Cuts `counts` pieces (by size) from one print of `class`.
    pub(crate) fn cut(&mut self, class: &Class, counts: &[u32], steps: u64) -> Arc<Cutting> {
        if counts.iter().all(|&n| n == 0) {
            return Arc::new(Cutting::Yes { cost: 0, least: 0, sheets: Vec::new() });
        }
        self.remember((class.sheets.clone(), class.turn, false, steps, counts.to_vec()))
    }

    /// Cuts `counts` pieces (by size) from exactly these whole sheets, all of them opened.
    pub(crate) fn fits_all_of(
        &mut self,
        kinds: &[SheetKind],
        turn: bool,
        counts: &[u32],
        steps: u64,
    ) -> Arc<Cutting> {
        self.remember((kinds.to_vec(), turn, true, steps, counts.to_vec()))
    }

    /// What is known of a question: its own answer, or where that is open a yes or a no that a larger budget has given.
    /// Only what this search has asked for itself counts, so the answer does not hang on what others were quick to ask.
    fn known_at_least(&self, asked: &Asked) -> Option<&Arc<Cutting>> {
        let own = self.known.get(asked);
        let open = |answer: &Arc<Cutting>| matches!(**answer, Cutting::Unknown);
        if own.is_some_and(|answer| !open(answer)) {
            return own;
        }
        let (sheets, turn, all, steps, counts) = asked;
        let more = [QUICK, THOROUGH].into_iter().filter(|more| more > steps);
        let settled = more.filter_map(|more| {
            let answer = self.known.get(&(sheets.clone(), *turn, *all, more, counts.clone()))?;
            (!open(answer)).then_some(answer)
        });
        settled.chain(own).next()
    }

    fn remember(&mut self, asked: Asked) -> Arc<Cutting> {
        self.asked += 1;
        if let Some(answer) = self.known_at_least(&asked) {
            return Arc::clone(answer);
        }
        if self.stop.seen() {
            return Arc::new(Cutting::Unknown);
        }
        let yardage = asked.0.iter().any(|kind| kind.by_length);
        *self.fresh += if yardage { self.yardage_counts } else { 1 };
        let (question, sizes) = self.question(&asked);
        let stop = &self.stop;
        let answer = self.store.ask(question, |question| {
            let answer = cheapest_cut(question, stop);
            // What the stop has cut short is not what the budget would have given.
            if matches!(answer, Cutting::Unknown) && stop.seen() { Err(answer) } else { Ok(answer) }
        });
        match answer {
            Ok(answer) => {
                let answer = Arc::new(answer.renamed(&sizes));
                self.known.insert(asked, Arc::clone(&answer));
                answer
            }
            Err(answer) => Arc::new(answer),
        }
    }

    /// The question without the numbers of this instance, and the number of each of its sizes.
    fn question(&self, (sheets, turn, all, steps, counts): &Asked) -> (Question, Vec<usize>) {
        let sizes: Vec<usize> = (0..counts.len()).filter(|&size| counts[size] > 0).collect();
        let kinds = self.instance.kinds(*turn);
        let wanted = |&size: &usize| Wanted {
            kind: kinds[size],
            from: self.instance.sizes[size].from.clone(),
            count: counts[size],
        };
        let pieces = sizes.iter().map(wanted).collect();
        (Question { sheets: sheets.clone(), all: *all, steps: *steps, pieces }, sizes)
    }
}

/// Steps of a short look at so many pieces by size.
fn light(counts: &[u32]) -> u64 {
    let pieces: u64 = counts.iter().map(|&n| u64::from(n)).sum();
    (8 * pieces * pieces).clamp(LIGHT, QUICK)
}
