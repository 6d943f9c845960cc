//! A run killed after each of its steps: the folder is whole, or says that it is not, and the next run puts it right.

use std::collections::BTreeMap;

use tempfile::TempDir;

use super::*;

type Files = Vec<(String, Vec<u8>)>;

/// A plan of `names`, each file with `content` in it.
fn plan(content: &str, names: &[&str]) -> Files {
    let mut files: Files =
        names.iter().map(|name| ((*name).to_owned(), content.as_bytes().to_vec())).collect();
    let digests: Vec<serde_json::Value> = files
        .iter()
        .map(|(name, bytes)| serde_json::json!({"name": name, "sha256": verifying::digest(bytes)}))
        .collect();
    let record = serde_json::json!({"format": "cutcloth-plan", "content": content, "files": digests});
    files.insert(0, (RECORD.to_owned(), record.to_string().into_bytes()));
    files
}

fn old() -> Files {
    plan("old", &["inputs/stash.csv", "inputs/placements.csv", "sheet.html", "cuts.csv", "buy.csv"])
}

fn new() -> Files {
    plan("new", &["inputs/stash.csv", "inputs/chart.csv", "sheet.html", "cuts.csv", "quilt.svg"])
}

/// What is the person's own in the folder.
const NOTES: [&str; 2] = ["notes.txt", "photos/deep/one.png"];

struct Shop(TempDir);

impl Shop {
    fn new() -> Shop {
        Shop(TempDir::new().expect("a folder"))
    }

    /// With the old plan and the person's notes in `out`.
    fn with_notes() -> Shop {
        let shop = Shop::new();
        shop.claim(false).expect("free").write(&old()).expect("written");
        for name in NOTES {
            shop.put(name, "mine");
        }
        shop
    }

    fn out(&self) -> PathBuf {
        fs::canonicalize(self.0.path()).expect("it exists").join("out")
    }

    fn put(&self, name: &str, content: &str) {
        let place = self.out().join(name);
        fs::create_dir_all(place.parent().expect("in a folder")).expect("a folder");
        fs::write(place, content).expect("a file");
    }

    fn claim(&self, force: bool) -> Result<Claim, FolderError> {
        claim(&self.out(), force, &[])
    }

    /// Every file under the folder that `out` lies in.
    fn all(&self) -> BTreeMap<String, String> {
        let root = fs::canonicalize(self.0.path()).expect("it exists");
        let (mut found, mut open) = (BTreeMap::new(), vec![root.clone()]);
        while let Some(here) = open.pop() {
            for entry in fs::read_dir(&here).expect("a folder") {
                let path = entry.expect("an entry").path();
                if path.is_dir() {
                    open.push(path);
                } else {
                    let name = path.strip_prefix(&root).expect("inside").display().to_string();
                    found.insert(name, fs::read_to_string(&path).expect("text"));
                }
            }
        }
        found
    }
}

/// As [`Shop::all`] tells a whole folder.
fn whole(files: &Files, notes: bool) -> BTreeMap<String, String> {
    let text = |bytes: &Vec<u8>| String::from_utf8(bytes.clone()).expect("text");
    let mut all: BTreeMap<String, String> =
        files.iter().map(|(name, bytes)| (format!("out/{name}"), text(bytes))).collect();
    if notes {
        all.extend(NOTES.map(|name| (format!("out/{name}"), "mine".to_owned())));
    }
    all
}

/// Runs `steps_of` for a claimed folder up to each step in turn, as a run does that is killed there, and looks at
/// what is left; then runs again.
fn killed_everywhere(
    make: &dyn Fn() -> Shop,
    notes: bool,
    steps_of: &dyn Fn(&Claim) -> (Vec<Step>, usize),
    look: &dyn Fn(&Shop, &Claim),
) {
    let mut kill = 0;
    loop {
        let shop = make();
        let claim = shop.claim(false).expect("free");
        let (steps, _) = steps_of(&claim);
        let last = steps.len();
        all(&steps[..kill.min(last)]).expect("the steps can be taken");
        look(&shop, &claim);
        drop(claim);
        shop.claim(false).unwrap_or_else(|error| panic!("killed after {kill}: {error}"));
        let written = shop.claim(false).expect("free").write(&new());
        assert!(matches!(written, Ok(None)), "killed after {kill}: {written:?}");
        assert_eq!(shop.all(), whole(&new(), notes), "killed after {kill} of {last}");
        if kill == last {
            return;
        }
        kill += 1;
    }
}

#[test]
fn killed_at_any_step_the_folder_holds_one_plan_whole_and_all_that_is_the_persons() {
    for notes in [true, false] {
        let make = || if notes { Shop::with_notes() } else { Shop::new() };
        let steps = |claim: &Claim| {
            let beside = claim.beside().expect("a place beside it");
            let held = Held::look(&claim.folder).expect("it can be looked into");
            beside::steps(&claim.folder, &beside, held.as_ref(), &new()).expect("steps")
        };
        let seen = std::cell::RefCell::new([0, 0]);
        killed_everywhere(&make, notes, &steps, &|shop, claim| {
            let mut all = shop.all();
            all.retain(|name, _| name.starts_with("out/"));
            let is_new = all.values().any(|content| content == "new");
            seen.borrow_mut()[usize::from(is_new)] += 1;
            let old = if notes { whole(&old(), true) } else { BTreeMap::new() };
            assert_eq!(all, if is_new { whole(&new(), notes) } else { old });
            assert_eq!(unfinished(&claim.folder.join("sheet.html")), None);
        });
        let [old, new] = seen.into_inner();
        assert!(old > 5 && new > 1, "it was killed before and after the exchange: {old}, {new}");
    }
}

#[test]
fn killed_at_any_step_of_the_other_way_the_folder_says_so_and_loses_nothing_of_the_persons() {
    let steps = |claim: &Claim| inside::steps(&claim.folder, &new());
    let mixed = std::cell::Cell::new(0);
    killed_everywhere(&Shop::with_notes, true, &steps, &|shop, claim| {
        let mut all = shop.all();
        all.retain(|name, _| name.starts_with("out/") && !name.contains(MARK));
        for name in NOTES {
            assert_eq!(all[&format!("out/{name}")], "mine");
        }
        let is_whole = all == whole(&old(), true) || all == whole(&new(), true);
        let says_so = |file| unfinished(&claim.folder.join(file)) == Some(&claim.folder);
        assert!(is_whole || says_so("sheet.html"), "what is of two plans says so");
        assert_eq!(says_so("sheet.html"), says_so("inputs/stash.csv"));
        mixed.set(mixed.get() + usize::from(!is_whole));
    });
    assert!(mixed.get() > 3, "it was killed among the moves: {}", mixed.get());
}

#[test]
fn a_file_changed_after_a_kill_among_the_moves_is_not_replaced() {
    let shop = Shop::with_notes();
    let (steps, done) = inside::steps(&shop.out(), &new());
    all(&steps[..done - 4]).expect("the steps can be taken");
    shop.put("cuts.csv", "changed by hand");
    let refused = shop.claim(false).expect_err("it was changed");
    assert!(matches!(&refused, FolderError::Changed { found, .. } if found == "cuts.csv"), "{refused}");
    shop.claim(true).expect("forced").write(&new()).expect("written");
    assert_eq!(shop.all(), whole(&new(), true));
}

#[test]
fn two_runs_do_not_claim_one_folder() {
    let shop = Shop::new();
    let first = shop.claim(false).expect("free");
    assert!(matches!(shop.claim(true), Err(FolderError::Busy(_))));
    drop(first);
    assert!(shop.claim(false).is_ok());
}

#[test]
fn what_was_changed_by_hand_is_replaced_only_when_it_is_kept_elsewhere_or_forced() {
    let shop = Shop::with_notes();
    shop.put("cuts.csv", "changed by hand");
    let refused = shop.claim(false).expect_err("it was changed");
    assert!(matches!(&refused, FolderError::Changed { found, .. } if found == "cuts.csv"), "{refused}");
    assert!(claim(&shop.out(), false, &[b"changed by hand"]).is_ok(), "an input of the run is copied");
    let written = shop.claim(true).expect("forced").write(&new());
    assert!(matches!(written, Ok(None)));
    assert_eq!(shop.all(), whole(&new(), true));
}

#[test]
fn what_is_changed_while_a_run_is_at_work_is_not_replaced() {
    let shop = Shop::with_notes();
    let claim = shop.claim(false).expect("free");
    shop.put("sheet.html", "ticked off");
    assert!(matches!(claim.write(&new()), Err(FolderError::Changed { .. })));
    let mut old = whole(&old(), true);
    old.insert("out/sheet.html".to_owned(), "ticked off".to_owned());
    assert_eq!(shop.all(), old, "nothing was written, and nothing is left over");
}

#[test]
fn what_only_a_leftover_of_a_killed_run_holds_is_not_removed() {
    let shop = Shop::with_notes();
    let claim = shop.claim(false).expect("free");
    let beside = claim.beside().expect("a place");
    fs::create_dir(&beside).expect("a folder");
    fs::write(beside.join("thought.txt"), "mine").expect("a file");
    assert!(matches!(claim.write(&new()), Err(FolderError::LeftBehind { .. })));
    assert_eq!(fs::read_to_string(beside.join("thought.txt")).expect("it is there"), "mine");
}

#[test]
#[cfg(unix)]
fn permissions_and_links_of_the_folder_stay() {
    use std::os::unix::fs::PermissionsExt as _;
    let shop = Shop::with_notes();
    fs::set_permissions(shop.out(), fs::Permissions::from_mode(0o750)).expect("mine");
    std::os::unix::fs::symlink("notes.txt", shop.out().join("link")).expect("a link");
    let alias = shop.out().with_file_name("alias");
    std::os::unix::fs::symlink(shop.out(), &alias).expect("a link");
    claim(&alias, false, &[]).expect("free").write(&new()).expect("written");
    assert!(fs::symlink_metadata(&alias).expect("there").is_symlink());
    assert_eq!(fs::metadata(shop.out()).expect("there").permissions().mode() & 0o777, 0o750);
    assert_eq!(fs::read_link(shop.out().join("link")).expect("a link"), Path::new("notes.txt"));
    assert!(shop.out().join("quilt.svg").exists());
}
