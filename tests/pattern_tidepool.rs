//! The Tidepool Quilt as a pattern cuts exactly what its chart lists, and its drawing covers it exactly.

use std::collections::BTreeMap;

use cutcloth::app::{Given, Units, chart};
use cutcloth::pattern::demand::{Demand, Loosened};
use cutcloth::pattern::{Pattern, Shape, geometry, read};

/// Block, copy, role, size in ticks, shape, size of the set -> how many.
type Cuts = BTreeMap<(String, u32, String, i64, i64, Shape, usize), usize>;

fn read_file(path: &str) -> Pattern {
    let bytes = std::fs::read(path).expect("the file is there");
    let (pattern, problems) = read(path, &bytes);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
    pattern
}

/// What belongs to no block is in a block of its own, which chart and pattern name differently.
fn cuts(pattern: &Pattern) -> Cuts {
    let demand = Demand::expand(pattern, &Loosened::default());
    let mut cuts = Cuts::new();
    for piece in &demand.pieces {
        let block = match pattern.blocks[piece.block.0].name.as_str() {
            "Border" => "quilt top",
            name => name,
        };
        let role = pattern.roles[piece.role.0].name.clone();
        let set = demand.set(piece.set).pieces.len();
        let (width, height) = (piece.width.ticks(), piece.height.ticks());
        *cuts.entry((block.to_string(), piece.copy, role, width, height, piece.shape, set)).or_default() += 1;
    }
    cuts
}

#[test]
fn pattern_and_chart_of_the_tidepool_quilt_cut_the_same() {
    let (pattern, chart) = (read_file("data/tidepool/pattern.toml"), read_file("data/tidepool/chart.csv"));
    assert_eq!(pattern.name, chart.name);
    assert_eq!(cuts(&pattern), cuts(&chart));
    for role in &chart.roles {
        let same = pattern.roles.iter().find(|other| other.name == role.name).expect("the role");
        assert_eq!(same.from, role.from, "{}", role.name);
    }
}

#[test]
fn the_chart_a_pattern_expands_to_reads_back_as_the_same_demand() {
    let folders = std::fs::read_dir("tests/cases/pattern").expect("the cases are there");
    let mut files: Vec<String> = folders
        .map(|folder| folder.expect("a folder").path().join("pattern.toml").display().to_string())
        .collect();
    files.push("data/tidepool/pattern.toml".to_string());
    assert!(files.len() > 5);
    for file in files {
        let pattern = read_file(&file);
        let given = Given { name: file.clone(), bytes: std::fs::read(&file).expect("the file is there") };
        for units in [Units::Inches, Units::Metric] {
            let (csv, _) = chart(&given, None, units).expect("a good pattern");
            let (again, problems) = read("chart.csv", &csv);
            assert!(problems.iter().all(|problem| !problem.is_error()), "{file}: {}", problems[0]);
            assert_eq!(cuts(&again), cuts(&pattern), "{file}");
        }
    }
}

/// Twice the area of a polygon, by the shoelace formula.
fn twice_area(corners: &[cutcloth::pattern::setting::Point]) -> i128 {
    let next = corners.iter().cycle().skip(1);
    let sum: i128 = corners
        .iter()
        .zip(next)
        .map(|(from, to)| {
            let [x, y, to_x, to_y] = [from.x, from.y, to.x, to.y].map(|side| i128::from(side.ticks()));
            x * to_y - to_x * y
        })
        .sum();
    sum.abs()
}

#[test]
fn the_patches_of_a_straight_quilt_cover_it_exactly() {
    let files = [
        "data/tidepool/pattern.toml",
        "tests/cases/pattern/one-strip-roll/pattern.toml",
        "tests/cases/pattern/wide-sashing-bed-quilt/pattern.toml",
        "tests/cases/pattern/twelve-geese-blocks/pattern.toml",
        "tests/cases/pattern/fifty-nine-patches/pattern.toml",
    ];
    for file in files {
        let pattern = read_file(file);
        let size = geometry::top(&pattern).expect("a layout").size;
        let patches = geometry::quilt(&pattern).expect("a layout");
        let covered: i128 = patches.iter().map(|patch| twice_area(&patch.patch.corners)).sum();
        let whole = 2 * i128::from(size.width.ticks()) * i128::from(size.height.ticks());
        assert_eq!(covered, whole, "{file}");
        for patch in &patches {
            for corner in &patch.patch.corners {
                assert!(corner.x.ticks() >= 0 && corner.x <= size.width, "{file}: {patch:?}");
                assert!(corner.y.ticks() >= 0 && corner.y <= size.height, "{file}: {patch:?}");
            }
        }
    }
}

/// Two rows of three nine-patches on point, with one more thing in the layout.
fn on_point(more: &str) -> Pattern {
    let text = format!(
        r#"
        [role]
        A = "print"
        B = "background"
        [[block]]
        name = "N"
        finished = "6 in"
        rows = ["A B A", "B A B", "A B A"]
        [[block]]
        name = "P"
        finished = "6 in"
        rows = ["B"]
        [layout]
        set = "on point"
        rows = ["N N N", "N N N"]
        between = ["P P"]
        setting = "B"
        {more}
    "#
    );
    let (pattern, problems) = read("on-point.toml", text.as_bytes());
    assert!(problems.is_empty(), "{}", problems[0]);
    pattern
}

#[test]
fn the_patches_of_a_quilt_on_point_cover_it_up_to_the_last_tick() {
    let sashing = "[layout.sashing]\nwidth = \"1 in\"\nrole = \"A\"\ncornerstones = \"B\"\n";
    let border = "[[layout.border]]\nwidth = \"2 in\"\nrole = \"A\"\n";
    for more in [String::new(), border.to_string(), sashing.to_string(), format!("{sashing}{border}")] {
        let pattern = on_point(&more);
        let size = geometry::top(&pattern).expect("a layout").size;
        let patches = geometry::quilt(&pattern).expect("a layout");
        let covered: i128 = patches.iter().map(|patch| twice_area(&patch.patch.corners)).sum();
        let whole = 2 * i128::from(size.width.ticks()) * i128::from(size.height.ticks());
        // Two ticks of rounding along every edge of every patch are the most that can go astray.
        let longest = 12 * i128::from(cutcloth::length::Length::TICKS_PER_INCH);
        let edges: i128 =
            patches.iter().map(|patch| i128::try_from(patch.patch.corners.len()).expect("few")).sum();
        let slack = edges * 4 * longest;
        assert!((covered - whole).abs() <= slack && slack * 100 < whole, "{covered} of {whole}: {more}");
    }
}

#[test]
fn sashing_on_point_goes_round_every_block_and_its_cornerstones_are_halved_at_the_edge() {
    let sashing = "[layout.sashing]\nwidth = \"1 in\"\nrole = \"A\"\ncornerstones = \"B\"\n";
    let top = geometry::top(&on_point(sashing)).expect("a layout");
    let lines: Vec<String> = top
        .lines
        .iter()
        .map(|line| {
            let count = match line.count {
                cutcloth::pattern::Count::PerCopy(count) | cutcloth::pattern::Count::Total(count) => count,
            };
            let [width, height] = [line.width, line.height].map(|side| side.show_bare(Units::Inches));
            format!("{count} {} {width} x {height}", line.label)
        })
        .collect();
    // Four strips round each of six blocks; crossings inside 2 x 2 + 1 x 3 = 7, at the edge 2 x 3 + 2 x 2 = 10;
    // side triangles 2 x (3 + 2 - 2) = 6, of the block without sashing; edge cornerstones 1 x 1.4142 + 1.2071 = 2.6213.
    assert_eq!(
        lines,
        [
            "2 side triangles 9 3/4 x 9 3/4",
            "2 corner triangles 5 1/8 x 5 1/8",
            "24 sashing 1 1/2 x 6 1/2",
            "7 cornerstone 1 1/2 x 1 1/2",
            "3 edge cornerstones 2 5/8 x 2 5/8",
        ]
    );
}
