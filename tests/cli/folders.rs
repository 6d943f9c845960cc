//! Whose folder is written into, and what is left there.

use cutcloth::app::folder::OWN_FILES;

use crate::support::{Shop, all_files, text};

fn names(shop: &Shop) -> Vec<String> {
    all_files(&shop.path("out")).into_iter().map(|(name, _)| name).collect()
}

#[test]
fn a_plan_writes_its_files_and_exact_copies_of_its_inputs() {
    let shop = Shop::small();
    let run = shop.plan(&["--placements", "wall.csv"]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    for name in ["plan.json", "sheet.html", "cuts.csv", "placements.csv", "leftovers.csv"] {
        assert!(names(&shop).contains(&name.to_owned()), "{name} is missing: {:?}", names(&shop));
    }
    for (copy, original) in [
        ("out/inputs/chart.csv", "chart.csv"),
        ("out/inputs/stash.csv", "stash.csv"),
        ("out/inputs/placements.csv", "wall.csv"),
    ] {
        assert_eq!(shop.get(copy), shop.get(original), "{copy}");
    }
}

#[test]
fn every_file_a_plan_writes_is_on_the_list_of_own_files() {
    for stash in
        ["print,cut,count\nteal dot,10-inch square,1\n", "print,cut,count\nteal dot,10-inch square,4\n"]
    {
        let shop = Shop::small();
        shop.put("stash.csv", stash);
        shop.plan(&["--placements", "wall.csv"]);
        assert!(!names(&shop).is_empty());
        for name in names(&shop) {
            assert!(OWN_FILES.contains(&name.as_str()), "{name} would make the folder somebody else's");
        }
    }
}

#[test]
fn an_own_folder_is_written_again_and_old_files_of_ours_go() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&["--placements", "wall.csv"]).status.code(), Some(0));
    assert!(names(&shop).contains(&"inputs/placements.csv".to_owned()));
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    assert!(!names(&shop).contains(&"inputs/placements.csv".to_owned()), "{:?}", names(&shop));
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}

#[test]
fn an_empty_folder_may_be_used() {
    let shop = Shop::small();
    std::fs::create_dir(shop.path("out")).expect("a folder");
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
}

#[test]
fn a_folder_with_anything_else_is_left_alone_unless_forced() {
    for (name, content) in [
        ("photo.txt", "mine"),
        ("sheet.html", "mine"),
        ("plan.json", "{\"format\":\"mine\"}"),
        ("inputs/x.csv", "mine"),
    ] {
        let shop = Shop::small();
        shop.put(&format!("out/{name}"), content);
        let before = all_files(&shop.path("out"));
        let run = shop.plan(&[]);
        assert_eq!(run.status.code(), Some(2), "{name}");
        assert!(text(&run.stderr).contains("--force"), "{}", text(&run.stderr));
        assert!(text(&run.stderr).contains(name), "{}", text(&run.stderr));
        assert_eq!(all_files(&shop.path("out")), before, "{name}: nothing may change");
        assert_eq!(shop.plan(&["--force"]).status.code(), Some(0), "{name}");
        if name == "photo.txt" || name == "inputs/x.csv" {
            assert_eq!(shop.get(&format!("out/{name}")), "mine", "files of other names stay");
        }
        assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0), "{name}");
    }
}

#[test]
fn what_the_person_puts_beside_a_plan_stays_there() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    shop.put("out/notes.txt", "mine");
    shop.put("out/photos/one.txt", "mine");
    assert_eq!(shop.plan(&["--date", "first of May"]).status.code(), Some(0));
    assert_eq!((shop.get("out/notes.txt"), shop.get("out/photos/one.txt")), ("mine".into(), "mine".into()));
    assert!(shop.get("out/sheet.html").contains("first of May"));
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}

#[test]
fn a_file_of_the_plan_that_was_changed_is_not_replaced_unless_forced() {
    for name in ["placements.csv", "sheet.html", "inputs/chart.csv", "buy.csv"] {
        let shop = Shop::small();
        assert_eq!(shop.plan(&[]).status.code(), Some(0));
        shop.put(&format!("out/{name}"), "changed by hand");
        let before = all_files(&shop.path("."));
        let run = shop.plan(&["--date", "first of May"]);
        assert_eq!(run.status.code(), Some(2), "{name}");
        let said = text(&run.stderr);
        assert!(said.contains(name) && said.contains("--force"), "{said}");
        assert_eq!(all_files(&shop.path(".")), before, "{name}: nothing may change");
        assert_eq!(shop.plan(&["--force"]).status.code(), Some(0), "{name}");
        assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0), "{name}");
    }
}

#[test]
fn placements_changed_in_the_folder_can_be_planned_with_into_the_same_folder() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let changed = shop.get("out/placements.csv").replace("Urchin,2,A", "Urchin, 2,A");
    shop.put("out/placements.csv", &changed);
    let run = shop.plan(&["--placements", "out/placements.csv"]);
    assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
    assert_eq!(shop.get("out/inputs/placements.csv"), changed, "what was changed is kept as an input");
}

#[test]
fn verify_says_which_files_do_not_belong_to_the_record() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    let first = all_files(&shop.path("out"));
    assert_eq!(shop.plan(&["--layers", "2", "--date", "first of May"]).status.code(), Some(0));
    for (name, bytes) in first.iter().filter(|(name, _)| name != "plan.json" && !name.starts_with("inputs/"))
    {
        let now = std::fs::read(shop.path(&format!("out/{name}"))).expect("a file");
        for other in [if *bytes == now { b"x" } else { bytes.as_slice() }, b""] {
            std::fs::write(shop.path(&format!("out/{name}")), other).expect("a file");
            let run = shop.run(&["verify", "out"]);
            assert_eq!(run.status.code(), Some(1), "{name}");
            let said = text(&run.stdout);
            assert!(said.contains(&format!("file {name}: ")) && said.contains("[V106]"), "{said}");
            assert!(said.contains(": 1 fault found"), "{said}");
        }
        std::fs::remove_file(shop.path(&format!("out/{name}"))).expect("it is there");
        assert!(text(&shop.run(&["verify", "out"]).stdout).contains("it is not there"), "{name}");
        std::fs::write(shop.path(&format!("out/{name}")), now).expect("a file");
    }
    shop.put("out/buy.csv", "print,cut\n");
    let run = shop.run(&["verify", "out"]);
    assert!(text(&run.stdout).contains("file buy.csv: it was not written with this record"));
    std::fs::remove_file(shop.path("out/buy.csv")).expect("it is there");
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}

#[test]
fn a_folder_that_is_stood_in_is_written_to_and_stays_the_same_folder() {
    let shop = Shop::small();
    std::fs::create_dir(shop.path("out")).expect("a folder");
    for date in ["first of May", "second of May"] {
        shop.put("out/notes.txt", "mine");
        let run = std::process::Command::new(env!("CARGO_BIN_EXE_cutcloth"))
            .args([
                "plan",
                "../chart.csv",
                "--stash",
                "../stash.csv",
                "--out",
                ".",
                "--date",
                date,
                "--force",
            ])
            .current_dir(shop.path("out"))
            .output()
            .expect("the program starts");
        assert_eq!(run.status.code(), Some(0), "{}", text(&run.stderr));
        assert!(shop.get("out/sheet.html").contains(date));
        assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
        assert!(names(&shop).iter().all(|name| !name.starts_with('.')), "{:?}", names(&shop));
    }
}

#[test]
fn every_command_says_that_a_folder_was_not_done() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    std::fs::create_dir(shop.path("out").join(cutcloth::app::folder::MARK)).expect("a folder");
    for arguments in [
        &["verify", "out"][..],
        &["check", "out/placements.csv"],
        &["chart", "out/inputs/chart.csv"],
        &["plan", "chart.csv", "--stash", "out/inputs/stash.csv"],
    ] {
        let run = shop.run(arguments);
        assert_eq!(run.status.code(), Some(2), "{arguments:?}");
        assert!(text(&run.stderr).contains("has not done writing into"), "{}", text(&run.stderr));
    }
    assert_eq!(shop.plan(&[]).status.code(), Some(0), "the next run puts it right");
    assert_eq!(shop.run(&["verify", "out"]).status.code(), Some(0));
}

#[test]
fn what_a_killed_run_left_unfinished_is_no_hindrance() {
    let shop = Shop::small();
    shop.put("out/.cutcloth-unfinished-a1", "half a file");
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
}

#[test]
fn a_file_in_the_place_of_the_folder_is_left_alone() {
    let shop = Shop::small();
    shop.put("out", "a file");
    let run = shop.plan(&["--force"]);
    assert_eq!(run.status.code(), Some(2));
    assert_eq!(shop.get("out"), "a file");
}

#[test]
#[cfg(unix)]
fn a_link_in_the_folder_leads_nowhere() {
    let shop = Shop::small();
    shop.put("elsewhere/stash.csv", "mine");
    std::fs::create_dir(shop.path("out")).expect("a folder");
    std::os::unix::fs::symlink(shop.path("elsewhere"), shop.path("out/inputs")).expect("a link");
    for more in [&[][..], &["--force"]] {
        assert_eq!(shop.plan(more).status.code(), Some(2));
        assert_eq!(shop.get("elsewhere/stash.csv"), "mine");
    }
}

#[test]
fn without_out_nothing_is_written() {
    let shop = Shop::small();
    let before = all_files(&shop.path("."));
    let run = shop.run(&["plan", "chart.csv", "--stash", "stash.csv"]);
    assert_eq!(run.status.code(), Some(0));
    assert_eq!(all_files(&shop.path(".")), before);
}
