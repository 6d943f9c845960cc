//! Every example of the format reference is read without a word of complaint.

use cutcloth::length::Units;
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Pattern, geometry, read_toml};

/// The text between ```` ```toml ```` and the closing fence, with the line it begins on.
fn examples() -> Vec<(usize, String)> {
    let page = std::fs::read_to_string("data/pattern-format.md").expect("the reference is there");
    let mut examples = Vec::new();
    let mut open: Option<(usize, String)> = None;
    for (index, line) in page.lines().enumerate() {
        if line == "```toml" {
            open = Some((index + 2, String::new()));
        } else if line == "```" {
            examples.extend(open.take());
        } else if let Some((_, text)) = &mut open {
            text.push_str(line);
            text.push('\n');
        }
    }
    examples
}

fn read(at: usize, text: &str) -> Pattern {
    let (pattern, problems) = read_toml("pattern-format.md", text.as_bytes());
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(told.is_empty(), "the example from line {at}:\n{}", told.join("\n"));
    pattern
}

fn example_with(words: &str) -> Pattern {
    let (at, text) = examples().into_iter().find(|(_, text)| text.contains(words)).expect("an example");
    read(at, &text)
}

#[test]
fn every_example_of_the_reference_is_a_good_pattern() {
    let examples = examples();
    assert_eq!(examples.len(), 10);
    for (at, text) in examples {
        let pattern = read(at, &text);
        assert!(!Demand::expand(&pattern, &Loosened::default()).pieces.is_empty(), "line {at}");
    }
}

#[test]
fn the_nine_patch_takes_ten_lines_and_cuts_nine_squares_a_block() {
    let (at, text) = examples().swap_remove(0);
    assert!(text.lines().count() <= 10);
    let pattern = read(at, &text);
    let demand = Demand::expand(&pattern, &Loosened::default());
    assert_eq!(demand.pieces.len(), 12 * 9);
    assert!(demand.pieces.iter().all(|piece| piece.width.show(Units::Inches) == "2 1/2 in"));
}

#[test]
fn units_made_for_all_copies_together_count_their_spares() {
    let pattern = example_with("One of each");
    let block = &pattern.blocks[0];
    // Twelve half-square triangles four at a time: three batches, none spare. Four triangles from two squares a copy.
    let spares: Vec<(u32, u32)> = block
        .units
        .iter()
        .map(|unit| unit.way().map_or((0, 0), |way| (way.recipe.makes, way.spare)))
        .collect();
    assert_eq!(spares[1], (4, 0));
    // Twenty slices from sets of sixteen: two sets, twelve slices over.
    assert_eq!(spares[8], (16, 12));
}

#[test]
fn another_method_changes_the_cuts_and_not_the_units() {
    let pattern = example_with("Churning tide");
    let first = &pattern.blocks[0].units[0];
    assert_eq!((first.name.as_str(), first.each, first.ways.len()), ("H", 4, 2));
    let sides = |pattern: &Pattern| -> Vec<(String, u32)> {
        let demand = Demand::expand(pattern, &Loosened::default());
        let mut sides: Vec<(String, u32)> = Vec::new();
        for piece in demand.pieces.iter().filter(|piece| piece.width == piece.height) {
            let side = piece.width.show(Units::Inches);
            match sides.iter_mut().find(|(other, _)| *other == side) {
                Some((_, count)) => *count += 1,
                None => sides.push((side, 1)),
            }
        }
        sides.sort();
        sides
    };
    let other = pattern.with_way(cutcloth::pattern::BlockId(0), 0, 1).expect("two ways");
    // Sixteen units: two batches of eight from 5 3/4 in squares, or eight pairs of 2 7/8 in squares; four centres.
    let text = |sides: &[(&str, u32)]| -> Vec<(String, u32)> {
        sides.iter().map(|&(side, count)| (side.to_string(), count)).collect()
    };
    assert_eq!(sides(&pattern), text(&[("2 1/2 in", 4), ("5 3/4 in", 4)]));
    assert_eq!(sides(&other), text(&[("2 1/2 in", 4), ("2 7/8 in", 16)]));
    assert_eq!(geometry::block(&other.blocks[0]), geometry::block(&pattern.blocks[0]));
}

#[test]
fn the_quilt_of_the_reference_has_the_size_it_states() {
    let harbour = example_with("Harbour");
    let top = geometry::top(&harbour).expect("a layout");
    assert_eq!(top.size.show(Units::Inches), "38 x 28 in");
    let labels: Vec<&str> = top.lines.iter().map(|line| line.label.as_str()).collect();
    assert_eq!(labels, ["cornerstone", "sashing", "border 1"]);
}

#[test]
fn every_code_of_the_pattern_reader_is_explained() {
    let page = std::fs::read_to_string("data/pattern-format.md").expect("the reference is there");
    let explained: Vec<&str> = page.lines().filter_map(|line| line.strip_prefix("| T")?.get(..3)).collect();
    let mut used = Vec::new();
    for file in ["src/pattern/file/source.rs", "src/app/given.rs", "src/app/held.rs"] {
        let source = std::fs::read_to_string(file).expect("the source is there");
        used.extend(source.split("\"T").skip(1).map(|rest| rest[..3].to_string()));
    }
    assert!(used.len() > 20);
    used.sort();
    assert_eq!(explained, used);
}
