//! Runs that are killed, interrupted, or not alone: from outside, as it happens.

use std::process::{Child, Command, Stdio};
use std::thread::sleep;
use std::time::{Duration, Instant};

use crate::support::{DEMO, Shop, all_files, text};

/// Starts the program inside the shop, without waiting for it.
fn start(shop: &Shop, arguments: &[&str]) -> Child {
    Command::new(env!("CARGO_BIN_EXE_cutcloth"))
        .args(arguments)
        .current_dir(shop.path("."))
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts")
}

/// Starts a run that takes minutes, and waits until it has claimed the folder `out`.
fn start_long(shop: &Shop) -> Child {
    let (chart, stash) = (format!("{DEMO}/chart.csv"), format!("{DEMO}/shelf.csv"));
    let child = start(shop, &["plan", &chart, "--stash", &stash, "--effort", "10000", "--out", "out"]);
    let start = Instant::now();
    while !shop.path(LOCK).exists() {
        assert!(start.elapsed() < Duration::from_secs(30), "no lock was taken");
        sleep(Duration::from_millis(5));
    }
    child
}

const LOCK: &str = ".out.cutcloth-lock";

/// Names in the shop that a run makes only for itself.
fn left_over(shop: &Shop) -> Vec<String> {
    let names = std::fs::read_dir(shop.path(".")).expect("a folder");
    let names = names.map(|entry| entry.expect("an entry").file_name().to_string_lossy().into_owned());
    names.filter(|name| name.starts_with('.')).collect()
}

#[test]
fn a_run_killed_at_any_time_leaves_the_old_plan_or_the_new_one_and_every_note() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    shop.put("out/notes.txt", "mine");
    let files = ["plan", "chart.csv", "--stash", "stash.csv", "--out", "out", "--date"];
    let before = Instant::now();
    assert_eq!(shop.run(&[&files[..], &["day 0"]].concat()).status.code(), Some(0));
    let whole = before.elapsed();
    let kills = 24;
    for kill in 1..=kills {
        let date = format!("day {kill}");
        let sheet = shop.get("out/sheet.html");
        let mut child = start(&shop, &[&files[..], &[&date]].concat());
        // The last part of a run writes; most kills are there.
        sleep(whole * (kills + kill) / (2 * kills));
        child.kill().expect("it can be killed");
        child.wait().expect("it ends");
        assert_eq!(shop.get("out/notes.txt"), "mine");
        let run = shop.run(&["verify", "out"]);
        if cfg!(unix) || run.status.code() != Some(2) {
            assert_eq!(run.status.code(), Some(0), "killed at {kill} of {kills}: {}", text(&run.stdout));
            let now = shop.get("out/sheet.html");
            assert!(now == sheet || now.contains(&date), "it is neither plan");
        }
    }
    assert_eq!(shop.plan(&[]).status.code(), Some(0), "what was left is no hindrance");
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
    assert_eq!(left_over(&shop), Vec::<String>::new());
    let hidden = all_files(&shop.path("out")).into_iter().filter(|(name, _)| name.starts_with('.'));
    assert_eq!(hidden.count(), 0);
}

#[test]
fn a_second_run_into_the_same_folder_is_refused_while_the_first_is_at_work() {
    let shop = Shop::small();
    let mut first = start_long(&shop);
    let second = shop.plan(&[]);
    let forced = shop.plan(&["--force"]);
    let elsewhere = shop.run(&["plan", "chart.csv", "--stash", "stash.csv", "--out", "other"]);
    first.kill().expect("it can be killed");
    first.wait().expect("it ends");
    for run in [second, forced] {
        assert_eq!(run.status.code(), Some(2));
        assert!(text(&run.stderr).contains("another run is at work"), "{}", text(&run.stderr));
    }
    assert_eq!(elsewhere.status.code(), Some(0), "another folder is free");
    assert_eq!(shop.plan(&[]).status.code(), Some(0), "the lock of a killed run is free");
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
    assert!(!cfg!(unix) || left_over(&shop).is_empty(), "{:?}", left_over(&shop));
}

#[cfg(unix)]
fn interrupt(child: &Child) {
    let done = Command::new("kill").args(["-INT", &child.id().to_string()]).output().expect("kill starts");
    // It may have ended by itself.
    let _ = done.status;
}

#[test]
#[cfg(unix)]
fn an_interrupt_ends_a_run_soon_with_a_plan_that_is_right() {
    let shop = Shop::small();
    let mut child = start_long(&shop);
    sleep(Duration::from_millis(700));
    let asked = Instant::now();
    interrupt(&child);
    let ended = child.wait().expect("it ends");
    // Whether a full plan was found by then depends on the machine.
    assert!([Some(0), Some(3)].contains(&ended.code()), "{ended:?}");
    assert!(asked.elapsed() < Duration::from_secs(20), "{:?}", asked.elapsed());
    assert!(shop.get("out/sheet.html").contains("The search was stopped by hand"));
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
    assert_eq!(left_over(&shop), Vec::<String>::new());
}

#[test]
#[cfg(unix)]
fn further_interrupts_end_it_at_once_and_leave_the_folder_whole() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let mut child = start_long(&shop);
    let asked = Instant::now();
    let ended = loop {
        interrupt(&child);
        if let Some(ended) = child.try_wait().expect("an answer") {
            break ended;
        }
        sleep(Duration::from_millis(20));
    };
    assert!([Some(130), Some(0), Some(3)].contains(&ended.code()), "{ended:?}");
    assert!(asked.elapsed() < Duration::from_secs(10), "{:?}", asked.elapsed());
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    assert_eq!(left_over(&shop), Vec::<String>::new());
}
