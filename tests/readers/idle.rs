//! Rules that no plan could break are told.

use cutcloth::app::Given;
use cutcloth::app::check::check;

fn told(pattern: &str) -> Vec<(&'static str, String, String)> {
    let file = Given { name: "pattern.toml".to_owned(), bytes: pattern.as_bytes().to_vec() };
    let checked = check(&[file], None);
    let said = checked[0].said.iter();
    said.map(|said| (said.code, said.place.field.clone().unwrap_or_default(), said.message.clone())).collect()
}

const BLOCKS: &str = r#"
[role.C]
[[block]]
name = "Cockle"
make = 4
finished = "4 in"
rows = ["A B", "B A"]
[[block]]
name = "Whelk"
make = 2
finished = "4 in"
rows = ["C"]
"#;

#[test]
fn a_rule_between_roles_that_never_meet_and_one_that_allows_all_are_told() {
    let idle = told(&format!("[role.A]\ndifferent = [\"C\"]\nat-most = 4\n[role.B]\n{BLOCKS}"));
    assert_eq!(
        idle,
        [
            (
                "T133",
                "role.A.at-most".to_owned(),
                "no block with \"A\" is made more than 4 times, so at most 4 alike has no effect".to_owned()
            ),
            (
                "T133",
                "role.A.different".to_owned(),
                "\"A\" and \"C\" are never in one block, so it has no effect that they must differ"
                    .to_owned()
            ),
        ]
    );
}

#[test]
fn rules_that_a_plan_could_break_are_not_told() {
    assert!(told(&format!("[role.A]\ndifferent = [\"B\"]\nat-most = 3\n[role.B]\n{BLOCKS}")).is_empty());
}
