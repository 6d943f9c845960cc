//! Quilts of more sets and sizes than the plans of a print can be listed for: they are planned sheet by sheet.

use cutcloth::app::options::Options;
use cutcloth::app::run::{Request, plan};
use cutcloth::app::summary::Verdict;
use cutcloth::app::{Given, Stop};
use rand::rngs::SmallRng;
use rand::{Rng, SeedableRng};

fn given(name: &str, text: String) -> Given {
    Given { name: name.to_owned(), bytes: text.into_bytes() }
}

/// Squares of one or several to a print, fat quarters, and one background by the yard.
fn stash(random: &mut SmallRng) -> String {
    let mut text = "print,cut,count,width,length\nwet sand,yardage,1,40,2 yd\n".to_owned();
    for print in 0..34 {
        let (cut, count) =
            if print % 4 == 0 { ("fat quarter", 1) } else { ("10-inch square", random.random_range(1..4)) };
        text += &format!("shore print {print},{cut},{count},,\n");
        if print % 9 == 0 {
            text += &format!("shore print {print},10-inch square,1,,\n");
        }
    }
    text
}

/// Fourteen kinds of block: a set of three alike or of two sizes, and a few loose pieces, all sizes different.
fn chart(random: &mut SmallRng) -> String {
    let mut text = "block,make,label,role,width,height,count,matching\n".to_owned();
    let quarters = |n: u32| format!("{} {}/4", n / 4, n % 4);
    for kind in 0..14 {
        let (wide, high) = (quarters(9 + kind), quarters(random.random_range(8..24)));
        text += &format!("Pool {kind},{},A{kind},set,{wide},{high},2,block\n", random.random_range(2..4));
        let small = quarters(random.random_range(6..12));
        text += &format!(",,B{kind},set,{small},{small},1,block\n");
        text += &format!(",,C{kind},loose,{},{small},2,piece\n", quarters(6 + kind));
    }
    text
}

#[test]
fn the_plan_passes_the_check_is_near_its_bound_and_the_same_on_any_threads() {
    for seed in 0..2 {
        let random = &mut SmallRng::seed_from_u64(seed);
        let (stash, chart) = (stash(random), chart(random));
        let mut files = Vec::new();
        for threads in [1, 3] {
            let mut options = Options::default();
            options.rules.threads = threads;
            let (pattern, stash) = (given("chart.csv", chart.clone()), given("stash.csv", stash.clone()));
            let request = Request { pattern, stash, placements: None, options };
            // The program checks its own record before it answers.
            let answer = plan(&request, &Stop::by_hand(), &mut |_| {}).expect("an answer");
            let summary = &answer.summary;
            assert_eq!(summary.verdict, Verdict::Fits, "seed {seed}");
            let (opened, bound) = summary.opened;
            assert!(
                bound <= opened && (opened - bound) * 100 <= opened * 12,
                "{bound} and {opened}, seed {seed}"
            );
            files.push(answer.files);
        }
        assert!(files[0] == files[1], "seed {seed} differs by threads");
    }
}

/// The chart twice over, once from squares and once from fat quarters, which no print holds both of.
#[test]
fn two_parts_without_a_print_in_common_open_together_what_each_opens_alone() {
    let random = &mut SmallRng::seed_from_u64(5);
    let rows = chart(random);
    let from = |cut: &str, name: &str| -> String {
        let rows = rows.lines().skip(1);
        rows.map(|row| {
            format!(
                "{},{cut}\n",
                row.replace("Pool", name)
                    .replace(",set,", &format!(",set {name},"))
                    .replace(",loose,", &format!(",loose {name},"))
            )
        })
        .collect()
    };
    let heading = "block,make,label,role,width,height,count,matching,from\n";
    let parts = [from("10-inch square", "Pool"), from("fat quarter", "Shelf")];
    let stock = |cut: &str, prints: u32| -> String {
        (0..prints).map(|print| format!("{cut} print {print},{cut},{}\n", 1 + print % 3)).collect()
    };
    let stocks = [stock("10-inch square", 40), stock("fat quarter", 8)];
    let opened = |rows: String, stock: String| {
        let (pattern, stash) = (given("chart.csv", rows), given("stash.csv", stock));
        let request = Request { pattern, stash, placements: None, options: Options::default() };
        let answer = plan(&request, &Stop::by_hand(), &mut |_| {}).expect("an answer");
        assert_eq!(answer.summary.verdict, Verdict::Fits);
        answer.summary.opened.0
    };
    let stash = |stock: &str| format!("print,cut,count\n{stock}");
    let alone = [0, 1].map(|part| opened(format!("{heading}{}", parts[part]), stash(&stocks[part])));
    let both = opened(format!("{heading}{}", parts.concat()), stash(&stocks.concat()));
    assert_eq!(both, alone[0] + alone[1]);
}

/// Fourteen kinds of block of two squares that must differ, one of them in at most two copies alike.
fn ruled() -> String {
    let mut text = "[quilt]\nname = \"Rock pools\"\n".to_owned();
    for kind in 0..14 {
        text += &format!("[role.A{kind}]\nmatching = \"block\"\ndifferent = [\"B{kind}\"]\nat-most = 2\n");
        text += &format!("[role.B{kind}]\nmatching = \"block\"\n");
    }
    for kind in 0..14 {
        let (wide, high) = (16 + 2 * kind, 8 + kind);
        text += &format!("[[block]]\nname = \"Pool {kind}\"\nmake = 4\nrows = [\"A{kind} B{kind}\"]\n");
        text += &format!("finished = \"{} {}/4 x {} {}/4 in\"\n", wide / 4, wide % 4, high / 4, high % 4);
    }
    text
}

#[test]
fn rules_between_fabrics_are_kept() {
    let mut stash = "print,cut,count,width,length\nwet sand,yardage,1,40,18\n".to_owned();
    for print in 0..16 {
        stash += &format!("shore print {print},10-inch square,{},,\n", 1 + print % 2);
    }
    let (pattern, stash) = (given("pools.toml", ruled()), given("stash.csv", stash));
    let request = Request { pattern, stash, placements: None, options: Options::default() };
    // A record that breaks a rule does not pass the check, and there is no answer.
    let answer = plan(&request, &Stop::by_hand(), &mut |_| {}).expect("an answer");
    assert_eq!(answer.summary.verdict, Verdict::Fits);
    assert_eq!(answer.summary.pieces, (112, 112));
}
