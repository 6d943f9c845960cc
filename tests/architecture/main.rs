//! The module arrows: which top-level module may use which. The list is in the order of the data's way, so
//! that every arrow points up the list and there is no way round.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use paths::named;

mod circles;
mod paths;

/// A module and what it may use; `main.rs` is `main`.
const ARROWS: &[(&str, &[&str])] = &[
    ("length", &[]),
    ("diagnostic", &[]),
    ("color", &[]),
    ("fabric", &["length"]),
    ("spreadsheet", &["diagnostic", "length"]),
    ("stash", &["color", "length", "diagnostic", "fabric", "spreadsheet"]),
    ("pattern", &["color", "length", "diagnostic", "fabric", "spreadsheet"]),
    ("looks", &["color", "stash", "pattern", "fabric", "length"]),
    ("placements", &["stash", "pattern", "diagnostic", "spreadsheet", "length"]),
    ("arranging", &["color", "stash", "pattern", "fabric"]),
    ("cutting", &["length"]),
    ("need", &["cutting", "pattern", "stash", "fabric", "length"]),
    ("planning", &["looks", "cutting", "placements", "stash", "pattern", "fabric", "length"]),
    ("verifying", &["color", "stash", "pattern", "placements", "fabric", "length", "diagnostic"]),
    (
        "report",
        &[
            "color",
            "arranging",
            "planning",
            "cutting",
            "stash",
            "pattern",
            "placements",
            "fabric",
            "spreadsheet",
            "diagnostic",
            "length",
        ],
    ),
    (
        "app",
        &[
            "report",
            "verifying",
            "arranging",
            "planning",
            "need",
            "cutting",
            "placements",
            "pattern",
            "stash",
            "spreadsheet",
            "fabric",
            "diagnostic",
            "length",
        ],
    ),
    ("cli", &["app", "diagnostic"]),
    ("main", &["cli"]),
];

fn source_files(folder: &Path, found: &mut Vec<PathBuf>) {
    let entries = fs::read_dir(folder).expect("src can be read");
    for path in entries.map(|entry| entry.expect("src can be read").path()) {
        if path.is_dir() {
            source_files(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

/// The top-level module a file belongs to.
fn module_of(file: &Path, src: &Path) -> String {
    let inside = file.strip_prefix(src).expect("a file of src");
    let first = inside.components().next().expect("a file has a name");
    first.as_os_str().to_string_lossy().trim_end_matches(".rs").to_owned()
}

/// Every module named after `crate::` (or `cutcloth::` in the binary) in `code`.
fn used(code: &str) -> BTreeSet<String> {
    let from_root =
        named(code).into_iter().filter(|one| ["crate", "cutcloth"].contains(&one.path[0].as_str()));
    from_root.filter_map(|one| one.path.into_iter().nth(1)).collect()
}

/// Module -> what it uses, with one file that does.
fn arrows() -> BTreeMap<String, BTreeMap<String, String>> {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    source_files(&src, &mut files);
    let mut arrows: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
    for file in files {
        let module = module_of(&file, &src);
        if module == "lib" {
            continue;
        }
        let code = fs::read_to_string(&file).expect("source is text");
        let uses = arrows.entry(module.clone()).or_default();
        for other in used(&code).into_iter().filter(|other| *other != module) {
            uses.insert(other, file.strip_prefix(&src).expect("a file of src").display().to_string());
        }
    }
    arrows
}

#[test]
fn modules_use_only_what_the_list_allows() {
    let mut wrong = String::new();
    for (module, uses) in arrows() {
        let Some((_, allowed)) = ARROWS.iter().find(|(name, _)| *name == module) else {
            wrong += &format!("{module} is not on the list\n");
            continue;
        };
        for (other, file) in uses {
            if !allowed.contains(&other.as_str()) {
                wrong += &format!("{module} uses {other} in {file}\n");
            }
        }
    }
    assert!(wrong.is_empty(), "arrows that are not allowed:\n{wrong}");
}

#[test]
fn every_arrow_of_the_list_points_up_it() {
    for (index, (module, allowed)) in ARROWS.iter().enumerate() {
        for other in *allowed {
            let above = ARROWS[..index].iter().any(|(name, _)| name == other);
            assert!(above, "{module} -> {other} does not point up, so there could be a way round");
        }
    }
}

#[test]
fn every_module_of_the_list_exists() {
    let arrows = arrows();
    for (module, _) in ARROWS {
        assert!(arrows.contains_key(*module), "there is no module {module}");
    }
}

#[test]
fn an_arrow_is_found_however_it_is_written() {
    let names = |code: &str| used(code).into_iter().collect::<Vec<_>>();
    assert_eq!(names("use crate::stash::Lot;"), ["stash"]);
    assert_eq!(names("use crate::{length, stash::{self, Lot}};"), ["length", "stash"]);
    assert_eq!(names("let x = crate::report::render(&job);"), ["report"]);
    assert_eq!(names("pub(crate) fn f() {} // crate::cli"), [""; 0]);
    assert_eq!(names("cutcloth::cli::run()"), ["cli"]);
}
