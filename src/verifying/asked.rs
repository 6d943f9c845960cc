//! The options of the run and the changes of an alternative, as the record gives them.

use serde_json::Value;

use super::fields::{Object, Reader};
use super::record::{Purchase, Relaxed, Rules};

impl Reader {
    pub(super) fn rules(&mut self, root: &Object<'_>) -> (Rules, Vec<Relaxed>) {
        let rules = self.inner(root, "rules");
        let weights = self.inner(&rules, "weights");
        let weights =
            ["scrap", "precut", "fat_quarter", "yardage"].map(|family| self.weight(&weights, family));
        let relaxed = self.list(&rules, "relaxed", Reader::relaxed);
        let rules = Rules {
            weights,
            useful_side: self.length(&rules, "useful_side"),
            allowance: self.length(&rules, "allowance"),
            aim: self.aim(&rules),
            extra_fabric: self.count(&rules, "extra_fabric"),
            effort: self.count(&rules, "effort"),
            solver: self.solver(&rules),
            stopped: self.stopped(&rules),
        };
        (rules, relaxed.into_iter().flatten().collect())
    }

    fn aim(&mut self, rules: &Object<'_>) -> String {
        let aim = self.text(rules, "aim");
        if !["look", "save"].contains(&aim.as_str()) {
            self.wrong(&rules.path_to("aim"), "expected \"look\" or \"save\"");
        }
        aim
    }

    fn solver(&mut self, rules: &Object<'_>) -> String {
        let solver = self.text(rules, "solver");
        if !["microlp", "highs"].contains(&solver.as_str()) {
            self.wrong(&rules.path_to("solver"), "expected \"microlp\" or \"highs\"");
        }
        solver
    }

    fn stopped(&mut self, rules: &Object<'_>) -> Option<String> {
        let stopped = self.maybe_text(rules, "stopped");
        if stopped.as_ref().is_some_and(|cause| !["clock", "hand"].contains(&cause.as_str())) {
            self.wrong(&rules.path_to("stopped"), "expected \"clock\", \"hand\" or null");
        }
        stopped
    }

    pub(super) fn relaxed(&mut self, item: &Object<'_>) -> Option<Relaxed> {
        let kind = self.text(item, "kind");
        match kind.as_str() {
            "other print" => {
                Some(Relaxed::OtherPrint { set: self.set(item), decided: self.text(item, "decided") })
            }
            "release" => Some(Relaxed::Release { lot: self.count(item, "lot") }),
            "mixed prints" => Some(Relaxed::MixedPrints {
                block: self.text(item, "block"),
                copies: self.numbers(item, "copies"),
                role: self.text(item, "role"),
            }),
            "two prints" => {
                Some(Relaxed::TwoPrints { role: self.text(item, "role"), prints: self.texts(item, "prints") })
            }
            "method" => Some(Relaxed::Method(self.made(item))),
            "size" => Some(Relaxed::Size { size: self.text(item, "size") }),
            "fewer copies" => Some(Relaxed::FewerCopies {
                block: self.text(item, "block"),
                was: self.count(item, "was"),
                make: self.count(item, "make"),
            }),
            "buy" => Some(Relaxed::Buy(self.purchase(item))),
            "rule" => Some(Relaxed::Rule {
                rule: self.text(item, "rule"),
                role: self.text(item, "role"),
                other: self.maybe_text(item, "other"),
            }),
            other => {
                self.wrong(&item.path_to("kind"), &format!("\"{other}\" is no kind of change"));
                None
            }
        }
    }

    pub(super) fn purchase(&mut self, item: &Object<'_>) -> Purchase {
        let price = match self.field(item, "price") {
            None | Some(Value::Null) => None,
            Some(_) => Some(i128::from(self.whole(item, "price"))),
        };
        Purchase {
            print: self.text(item, "print"),
            cut: self.text(item, "cut"),
            width: self.length(item, "width"),
            length: self.length(item, "length"),
            count: self.count(item, "count"),
            price,
        }
    }
}
