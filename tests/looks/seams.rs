//! Which roles meet, counted by hand.

use cutcloth::length::Length;
use cutcloth::looks::meetings;
use cutcloth::pattern::{self, Pattern};

fn read(name: &str, text: &str) -> Pattern {
    let (pattern, diagnostics) = pattern::read(name, text.as_bytes());
    assert!(
        diagnostics.iter().all(|one| one.severity != cutcloth::diagnostic::Severity::Error),
        "{diagnostics:?}"
    );
    pattern
}

fn demo(name: &str) -> Pattern {
    let path = format!("{}/data/tidepool/{name}", env!("CARGO_MANIFEST_DIR"));
    read(name, &std::fs::read_to_string(path).unwrap())
}

/// `block: one + other, inches`, or no inches.
fn told(pattern: &Pattern) -> Vec<String> {
    let each = meetings(pattern).into_iter().map(|meeting| {
        let block = meeting.block.map_or("quilt", |block| pattern.blocks[block.0].name.as_str());
        let [one, other] = meeting.roles.map(|role| pattern.roles[role.0].name.as_str());
        let seam = meeting.seam.map_or("?".to_owned(), |seam| {
            seam.ticks().div_euclid(Length::from_inches(1).ticks()).to_string()
        });
        format!("{block}: {one} + {other}, {seam}")
    });
    each.collect()
}

const SHORE: &str = r#"
[quilt]
name = "Shore"
[role.shell]
matching = "block"
[role.sand]
matching = "quilt"
[role.wave]
matching = "quilt"
[[block]]
name = "Cockle"
letter = "C"
finished = "4 in"
rows = ["shell sand", "sand shell"]
[[block]]
name = "Whelk"
letter = "W"
finished = "4 in"
rows = ["shell"]
"#;

#[test]
fn seams_within_and_between_blocks_are_measured() {
    // A Cockle is a four-patch: its cross is 8 in long. A Whelk of 4 in meets half a side of sand at each of the 12 seams that the four of
    // them have with Cockles: 24 in, 6 for each.
    let checkers = format!("{SHORE}[layout]\nrows = [\"C W C\", \"W C W\", \"C W C\"]\n");
    assert_eq!(told(&read("shore.toml", &checkers)), ["Cockle: shell + sand, 8", "Whelk: shell + sand, 6"]);
}

#[test]
fn a_border_meets_what_lies_at_the_edge() {
    // One Cockle in a border of 1 in: each side is half shell, half sand.
    let cockle = SHORE.split("[[block]]\nname = \"Whelk\"").next().unwrap();
    let one =
        format!("{cockle}[layout]\nrows = [\"C\"]\n[[layout.border]]\nwidth = \"1 in\"\nrole = \"wave\"\n");
    let expected = ["quilt: sand + wave, 8", "Cockle: shell + sand, 8", "Cockle: shell + wave, 8"];
    assert_eq!(told(&read("shore.toml", &one)), expected);
}

#[test]
fn on_point_seams_are_as_long_as_set_straight() {
    // Four Cockles round a Whelk, standing on their corners: each side of the Whelk meets 2 in of sand. The triangles are of
    // another fabric that meets the 12 outer sides of the Cockles, 2 in of each role on every one, up to rounding.
    let setting =
        "[layout]\nset = \"on point\"\nrows = [\"C C\", \"C C\"]\nbetween = [\"W\"]\nsetting = \"wave\"\n";
    let text = format!("{SHORE}{setting}");
    let pattern = read("shore.toml", &text);
    let inches = |length: Length| (length.ticks() + 40) / Length::from_inches(1).ticks();
    let found: Vec<(bool, usize, i64)> = meetings(&pattern)
        .iter()
        .map(|meeting| (meeting.block.is_some(), meeting.roles[1].0, inches(meeting.seam.unwrap())))
        .collect();
    // Sand and wave over the quilt; then by block: Cockle's shell with sand and wave, Whelk's shell with sand.
    assert_eq!(found, [(false, 2, 24), (true, 1, 8), (true, 2, 6), (true, 1, 8)]);
}

#[test]
fn the_rings_of_a_limpet_share_the_longest_seam_of_the_demo() {
    let told = told(&demo("pattern.toml"));
    // Urchin: four spines of 4 in, four diagonals of 4 x 1.414, and at each corner square twice 2 in of water: 16 + 22.6 + 16. The
    // inner ring goes round 4 x 4, the outer one round 8 x 8.
    for expected in [
        "Urchin: urchin + background, 54",
        "Limpet: limpet inner + limpet outer, 32",
        "Limpet: limpet inner + background, 16",
    ] {
        assert!(told.iter().any(|one| one == expected), "{expected}: {told:?}");
    }
    assert!(told.iter().any(|one| one.starts_with("Driftwood: plank + background")), "{told:?}");
    assert!(told.iter().all(|one| !one.contains("binding")), "{told:?}");
}

#[test]
fn in_a_chart_every_two_roles_of_a_block_meet() {
    assert_eq!(
        told(&demo("chart.csv")),
        [
            "quilt: background + border, ?",
            "Urchin: urchin + background, ?",
            "Limpet: background + limpet inner, ?",
            "Limpet: background + limpet outer, ?",
            "Limpet: limpet inner + limpet outer, ?",
            "Anemone: background + anemone, ?",
            "Driftwood: background + plank, ?",
        ]
    );
}
