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
fn a_plan_with_another_file_beside_it_is_not_ours_alone() {
    let shop = Shop::small();
    assert_eq!(shop.plan(&[]).status.code(), Some(0));
    shop.put("out/notes.txt", "mine");
    assert_eq!(shop.plan(&[]).status.code(), Some(2));
    assert_eq!(shop.get("out/notes.txt"), "mine");
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
