//! The sewing order of a block: units first, then rows, with what each step must measure. Plain data for the
//! sheet by block.

use crate::length::Length;
use crate::pattern::unit::{Kind, Method, Step, Unit};
use crate::pattern::{Block, Cell, Part, Size, Turn};
use crate::spreadsheet::list;

/// What is sewn in one go: a kind of unit, or the rows of the block.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stage {
    /// The unit, or the block for its own rows.
    pub name: String,
    /// How many of it one block copy has.
    pub each: u32,
    /// How it is made; [`Method::Plain`] where there is one way only.
    pub method: Method,
    /// In how many ways the pattern lets it be made; 1 for rows.
    pub ways: usize,
    /// How many one batch makes; 1 for rows.
    pub makes: u32,
    /// Left over when all copies are made.
    pub spare: u32,
    /// Labels of the pieces it takes, as on the chart; empty for rows.
    pub pieces: Vec<String>,
    /// What to do, and what it must measure.
    pub steps: Vec<Step>,
}

/// The stages of a block in an order in which everything is ready when it is needed.
///
/// Plain patches need no sewing and have no stage; a block without units or rows has none at all.
pub fn stages(block: &Block) -> Vec<Stage> {
    let mut stages = Vec::new();
    for unit in &block.units {
        stages.extend(unit_stage(unit));
    }
    let mut done = vec![false; block.units.len()];
    for index in 0..block.units.len() {
        rows_stage(block, index, &mut done, &mut stages);
    }
    if let Some(size) = block.finished {
        let steps = row_steps(block, &block.rows, size);
        if !steps.is_empty() {
            stages.push(Stage { steps, ..of_rows(&block.name, 1) });
        }
    }
    stages
}

/// A unit sewn from pieces.
fn unit_stage(unit: &Unit) -> Option<Stage> {
    let way = unit.way().filter(|way| !way.recipe.steps.is_empty() && unit.each > 0)?;
    Some(Stage {
        name: unit.name.clone(),
        each: unit.each,
        method: way.method,
        ways: unit.ways.len(),
        makes: way.recipe.makes,
        spare: way.spare,
        pieces: way.lines.iter().map(|line| line.label.clone()).collect(),
        steps: way.recipe.steps.clone(),
    })
}

/// A unit sewn from rows of others, after those of them that are rows as well.
fn rows_stage(block: &Block, index: usize, done: &mut [bool], stages: &mut Vec<Stage>) {
    let Some(unit) = block.units.get(index) else { return };
    let Kind::Rows { rows } = &unit.kind else { return };
    if std::mem::replace(&mut done[index], true) {
        return;
    }
    for cell in rows.iter().flatten() {
        if let Part::Unit(inner) = cell.part {
            rows_stage(block, inner, done, stages);
        }
    }
    if let Some(size) = unit.finished.filter(|_| unit.each > 0) {
        let steps = row_steps(block, rows, size);
        if !steps.is_empty() {
            stages.push(Stage { steps, ..of_rows(&unit.name, unit.each) });
        }
    }
}

fn of_rows(name: &str, each: u32) -> Stage {
    Stage {
        name: name.to_string(),
        each,
        method: Method::Plain,
        ways: 1,
        makes: 1,
        spare: 0,
        pieces: Vec::new(),
        steps: Vec::new(),
    }
}

/// Each row of more than one part, then the rows together; `whole` is the finished size.
fn row_steps(block: &Block, rows: &[Vec<Cell>], whole: Size) -> Vec<Step> {
    let open = |finished: Length| finished + block.seams;
    let mut steps = Vec::new();
    for (index, row) in rows.iter().enumerate().filter(|(_, row)| row.len() > 1) {
        let names = row.iter().map(|cell| named(block, cell));
        let which = if rows.len() == 1 { "together".to_string() } else { format!("row {}", index + 1) };
        let height = row.iter().filter_map(|cell| block.cell_size(cell)).map(|size| size.height).max();
        let measures = height.map(|height| Size { width: open(whole.width), height: open(height) });
        steps.push(Step { text: format!("Sew {which}: {}.", list(names)), measures });
    }
    if rows.len() > 1 {
        let measures = Some(Size { width: open(whole.width), height: open(whole.height) });
        steps.push(Step { text: "Sew the rows together, top to bottom.".to_string(), measures });
    }
    steps
}

/// A part of a row in words, with its turn.
fn named(block: &Block, cell: &Cell) -> String {
    let name = match cell.part {
        Part::Unit(index) => block.units.get(index).map(|unit| unit.name.as_str()),
        Part::Piece(index, _) => block.pieces.get(index).map(|line| line.label.as_str()),
    };
    let turn = match cell.turn {
        Turn::Up => "",
        Turn::Right => " turned right",
        Turn::Down => " upside down",
        Turn::Left => " turned left",
    };
    format!("{}{turn}", name.unwrap_or_default())
}

impl Block {
    /// Finished size of what a cell holds, as it lies; `None` for what has none.
    pub fn cell_size(&self, cell: &Cell) -> Option<Size> {
        let upright = match cell.part {
            Part::Unit(index) => self.units.get(index)?.finished?,
            Part::Piece(index, _) => {
                let line = self.pieces.get(index)?;
                Size { width: line.width - self.seams, height: line.height - self.seams }
            }
        };
        Some(upright.turned(cell.turn))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Units;
    use crate::pattern::read_toml;

    #[test]
    fn units_come_before_the_rows_that_need_them_and_every_step_is_measured() {
        let text = r#"
            [role]
            A = "a"
            B = "b"
            [[block]]
            name = "Tide"
            finished = "6 in"
            rows = ["H bar> H>", "bar A barv", "H< bar< Hv"]
            [[block.unit]]
            name = "bar"
            kind = "rows"
            finished = "2 in"
            rows = ["B A"]
            [[block.unit]]
            name = "H"
            kind = "half-square triangles"
            roles = ["B", "A"]
            finished = "2 in"
        "#;
        let (pattern, problems) = read_toml("tide.toml", text.as_bytes());
        assert!(problems.is_empty(), "{}", problems[0]);
        let stages = stages(&pattern.blocks[0]);
        let told: Vec<String> = stages
            .iter()
            .map(|stage| {
                let last = stage.steps.last().expect("a step");
                let size = last.measures.map(|size| size.show(Units::Inches)).unwrap_or_default();
                format!("{} {} -> {size}", stage.each, stage.name)
            })
            .collect();
        assert_eq!(
            told,
            ["4 H -> 2 1/2 x 2 1/2 in", "4 bar -> 2 1/2 x 2 1/2 in", "1 Tide -> 6 1/2 x 6 1/2 in"]
        );
        assert_eq!(stages[0].pieces, ["B1", "A1"]);
        assert_eq!(stages[1].steps[0].text, "Sew together: B and A.");
        let block = &stages[2].steps;
        assert_eq!(block[0].text, "Sew row 1: H, bar turned right and H turned right.");
        assert_eq!(
            block[0].measures.map(|size| size.show(Units::Inches)),
            Some("6 1/2 x 2 1/2 in".to_string())
        );
        assert_eq!(block.len(), 4);
    }

    #[test]
    fn a_plain_block_has_nothing_to_sew() {
        let text = "[role]\nA = \"a\"\n[[block]]\nname = \"P\"\nfinished = \"6 in\"\nrows = [\"A\"]\n";
        let (pattern, _) = read_toml("p.toml", text.as_bytes());
        assert_eq!(stages(&pattern.blocks[0]), []);
    }
}
