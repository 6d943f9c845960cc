//! A temporary folder to run the program in, and small files for it.

use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

/// The demo.
pub(crate) const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/data/tidepool");

/// A small quilt: two Urchin blocks, each with two matching squares and a strip.
const CHART: &str = "block,make,label,role,width,height,count,shape,matching\n\
                     Urchin,2,A1,A,4 1/2,4 1/2,2,,block\nUrchin,2,B1,B,2 1/2,4 1/2,1,,piece\n";

/// A square of one print and one of another: it fits.
const STASH: &str = "print,cut,count\nteal dot,10-inch square,1\nrust leaf,10-inch square,1\n";

/// Runs the program in the current folder.
pub(crate) fn cutcloth(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_cutcloth")).args(arguments).output().expect("the program starts")
}

/// Bytes as text.
pub(crate) fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// A temporary folder.
pub(crate) struct Shop {
    folder: TempDir,
}

impl Shop {
    /// An empty one.
    pub(crate) fn new() -> Shop {
        Shop { folder: TempDir::new().expect("a temporary folder") }
    }

    /// One with `chart.csv`, `stash.csv` and `wall.csv` (placements) which fit together.
    pub(crate) fn small() -> Shop {
        let shop = Shop::new();
        shop.put("chart.csv", CHART);
        shop.put("stash.csv", STASH);
        shop.put("wall.csv", "block,copy,role,print\nUrchin,2,A,teal dot\n");
        shop
    }

    /// Path of a file in it.
    pub(crate) fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file, with the folders it needs.
    pub(crate) fn put(&self, name: &str, content: &str) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("inside the folder")).expect("a folder");
        std::fs::write(path, content).expect("a file");
    }

    /// What is in a file.
    pub(crate) fn get(&self, name: &str) -> String {
        text(&std::fs::read(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}")))
    }

    /// Runs the program inside.
    pub(crate) fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_cutcloth"))
            .args(arguments)
            .current_dir(self.folder.path())
            .output()
            .expect("the program starts")
    }

    /// Plans the small quilt into `out`, with more arguments.
    pub(crate) fn plan(&self, more: &[&str]) -> Output {
        self.run(&[&["plan", "chart.csv", "--stash", "stash.csv", "--out", "out"], more].concat())
    }
}

/// Every file below a folder with its content, by name.
pub(crate) fn all_files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let mut found = Vec::new();
    let mut open = vec![folder.to_owned()];
    while let Some(here) = open.pop() {
        for entry in std::fs::read_dir(&here).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                open.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("inside").display().to_string();
                found.push((name, std::fs::read(&path).expect("a file")));
            }
        }
    }
    found.sort();
    found
}
