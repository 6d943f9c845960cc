//! What README.md, DEVELOPERS.md and the pages of data say is true of the program.

mod commands;
mod developers;
mod fences;
mod limits;
mod readme;

/// The text of a file of the repository.
fn text_of(name: &str) -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}
