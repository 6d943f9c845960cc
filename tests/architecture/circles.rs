//! The files inside a module: none needs another that needs it, straight or by a way round.
//!
//! A file that has a folder (`mod.rs`, or `lp.rs` beside `lp/`) holds what its folder shares, and puts the parts together. So a
//! file may use the one in whose folder it stands, and that one way up is not counted. All other ways are: between the
//! files of a folder, into another folder, and down. What a file only hands on is looked for where it is defined.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crate::paths::{Named, named};
use crate::source_files;

/// A file by the names that lead to it: `src/planning/columns/lp/solved.rs` is `planning`, `lp`, `solved`.
type Module = Vec<String>;

/// The files of a crate, as far as they lean on each other.
#[derive(Default)]
struct Files {
    /// Absolute paths that a file names.
    paths: BTreeMap<Module, Vec<Module>>,
    /// What the names of its `use` lines stand for.
    names: BTreeMap<Module, BTreeMap<String, Module>>,
}

impl Files {
    fn of(sources: &[(String, String)]) -> Files {
        let module = |path: &str| {
            let mut names: Module = path.trim_end_matches(".rs").split('/').map(str::to_owned).collect();
            names.pop_if(|name| name == "mod");
            names
        };
        let mut files = Files::default();
        for (path, _) in sources {
            files.paths.insert(module(path), Vec::new());
        }
        for (path, code) in sources {
            let module = module(path);
            let (used, others): (Vec<Named>, Vec<Named>) = named(code).into_iter().partition(|one| one.used);
            let absolute = |one: Named| Some((one.name, files.absolute(&module, &one.path)?));
            let used: Vec<(String, Module)> = used.into_iter().filter_map(absolute).collect();
            let names: BTreeMap<String, Module> = used.iter().cloned().collect();
            let path = |one: Named| match names.get(&one.path[0]) {
                Some(start) => Some([start, &one.path[1..]].concat()),
                None => files.absolute(&module, &one.path),
            };
            let others: Vec<Module> = others.into_iter().filter_map(path).collect();
            let paths = used.into_iter().map(|(_, path)| path).chain(others).collect();
            files.paths.insert(module.clone(), paths);
            files.names.insert(module, names);
        }
        files
    }

    /// `path` from the root of the crate, as `module` writes it; `None` where it leads out of the crate.
    fn absolute(&self, module: &[String], path: &[String]) -> Option<Module> {
        let ups = path.iter().take_while(|name| *name == "super").count();
        let (start, rest) = match path[0].as_str() {
            "crate" | "cutcloth" => (&[][..], &path[1..]),
            "self" => (module, &path[1..]),
            "super" => (&module[..module.len() - ups], &path[ups..]),
            child if self.paths.contains_key(&[module, &[child.to_owned()]].concat()) => (module, path),
            _ => return None,
        };
        Some([start, rest].concat())
    }

    /// The file that defines what `path` names.
    fn home(&self, path: &[String]) -> Option<Module> {
        let length = (1..=path.len()).rev().find(|&length| self.paths.contains_key(&path[..length]))?;
        let (module, rest) = path.split_at(length);
        let handed_on = rest.first().and_then(|name| self.names[module].get(name));
        match handed_on {
            Some(elsewhere) => self.home(&[elsewhere, &rest[1..]].concat()),
            None => Some(module.to_vec()),
        }
    }

    /// What each file leans on, but for the files in whose folders it stands.
    fn arrows(&self) -> BTreeMap<&Module, BTreeSet<Module>> {
        let of = |module: &Module, paths: &Vec<Module>| {
            let homes = paths.iter().filter_map(|path| self.home(path));
            homes.filter(|home| !module.starts_with(home)).collect()
        };
        self.paths.iter().map(|(module, paths)| (module, of(module, paths))).collect()
    }

    /// Files that all lead to each other.
    fn circles(&self) -> BTreeSet<Vec<String>> {
        let arrows = self.arrows();
        let all: BTreeMap<&Module, BTreeSet<&Module>> =
            arrows.keys().map(|&file| (file, reached(&arrows, file))).collect();
        let circle = |file: &Module| -> Vec<String> {
            all[file].iter().filter(|other| all[**other].contains(file)).map(|file| file.join("::")).collect()
        };
        all.keys().map(|file| circle(file)).filter(|circle| !circle.is_empty()).collect()
    }
}

/// All that a file leads to, itself only by a way round.
fn reached<'a>(arrows: &'a BTreeMap<&Module, BTreeSet<Module>>, from: &'a Module) -> BTreeSet<&'a Module> {
    let mut reached = BTreeSet::new();
    let mut open: Vec<&Module> = vec![from];
    while let Some(next) = open.pop() {
        open.extend(arrows[next].iter().filter(|to| reached.insert(*to)));
    }
    reached
}

#[test]
fn no_files_lean_on_each_other_in_a_circle() {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut paths = Vec::new();
    source_files(&src, &mut paths);
    let source = |path: &Path| {
        let name: Vec<_> = path.strip_prefix(&src).expect("a file of src").iter().collect();
        let name: Vec<_> = name.iter().map(|part| part.to_string_lossy()).collect();
        (name.join("/"), fs::read_to_string(path).expect("source is text"))
    };
    let mut sources: Vec<(String, String)> = paths.iter().map(|path| source(path)).collect();
    sources.retain(|(name, _)| name != "lib.rs");
    let files = Files::of(&sources);
    assert!(files.arrows().values().map(BTreeSet::len).sum::<usize>() > sources.len(), "arrows were found");
    let circles: Vec<String> = files.circles().iter().map(|circle| circle.join(", ")).collect();
    assert!(
        circles.is_empty(),
        "files that lean on each other; move what they share below them:\n{}",
        circles.join("\n")
    );
}

/// The circles of a small crate.
fn circles(sources: &[(&str, &str)]) -> Vec<Vec<String>> {
    let owned = |&(path, code): &(&str, &str)| (path.to_owned(), code.to_owned());
    let files = Files::of(&sources.iter().map(owned).collect::<Vec<_>>());
    files.circles().into_iter().collect()
}

#[test]
fn a_circle_is_found_however_its_files_name_each_other() {
    let back = ("m/b.rs", "pub struct B;\nfn f() { crate::m::a::g(); }");
    for code in [
        "use crate::m::b::B;",
        "use crate::{length, m::b::{self, B}};",
        "use super::b::B;",
        "fn g(b: crate::m::b::B) { drop(b) }",
        "use crate::m::Handed;",
        "use crate::m;\nfn g() { m::b::f() }",
    ] {
        let face = ("m/mod.rs", "mod a;\nmod b;\npub use b::B as Handed;");
        assert_eq!(circles(&[face, ("m/a.rs", code), back]), [["m::a", "m::b"]], "{code}");
    }
    let (a, b, c) =
        (("a.rs", "use crate::b::B;"), ("b.rs", "use crate::c::C;"), ("c.rs", "use crate::a::A;"));
    assert_eq!(circles(&[a, b, c]), [["a", "b", "c"]]);
    assert_eq!(circles(&[a, b, ("c.rs", "pub struct C;")]), [[""; 0]; 0]);
}

#[test]
fn what_a_folder_shares_is_no_circle_and_a_way_round_through_another_folder_is_one() {
    let face = ("m/mod.rs", "mod a;\npub struct Shared;\nfn f() { a::g() }");
    assert_eq!(circles(&[face, ("m/a.rs", "use crate::m::Shared;")]), [[""; 0]; 0]);
    let other = ("n.rs", "use crate::m::Shared;");
    assert_eq!(circles(&[face, ("m/a.rs", "use crate::n::N;"), other]), [["m", "m::a", "n"]]);
}

#[test]
fn comments_and_tests_make_no_circle() {
    let below = ("b.rs", "pub struct B; // crate::a\n\n#[cfg(test)]\nmod tests {\n    use crate::a::A;\n}");
    assert_eq!(circles(&[("a.rs", "use crate::b::B;"), below]), [[""; 0]; 0]);
}
