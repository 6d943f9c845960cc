//! Every patch of a drawing is given a piece of its own role and size, and every piece that is cut is seen.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

use cutcloth::length::Length;
use cutcloth::pattern::demand::{Demand, Loosened, Piece, PieceId};
use cutcloth::pattern::geometry::{self, Source};
use cutcloth::pattern::setting::Purpose;
use cutcloth::pattern::unit::Kind;
use cutcloth::pattern::{BlockId, Pattern, patchwork, read_toml};

fn read(path: &Path) -> Pattern {
    let bytes = fs::read(path).unwrap();
    let (pattern, said) = read_toml("pattern.toml", &bytes);
    assert!(said.iter().all(|said| !said.is_error()), "{}: {}", path.display(), said[0]);
    pattern
}

fn patterns() -> Vec<PathBuf> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let cases = fs::read_dir(root.join("tests/cases/pattern")).unwrap();
    let mut paths: Vec<PathBuf> = cases.map(|entry| entry.unwrap().path().join("pattern.toml")).collect();
    paths.push(root.join("data/tidepool/pattern.toml"));
    paths.sort();
    paths
}

/// Width and height of a patch that is a rectangle, as it lies.
fn lying(corners: &[cutcloth::pattern::setting::Point]) -> (Length, Length) {
    let across = |of: fn(&cutcloth::pattern::setting::Point) -> Length| {
        let sides = || corners.iter().map(of);
        sides().max().unwrap() - sides().min().unwrap()
    };
    (across(|at| at.x), across(|at| at.y))
}

#[test]
fn every_patch_has_a_piece_of_its_block_role_and_size_and_every_piece_is_seen() {
    let mut seen_patches = 0;
    for path in patterns() {
        let pattern = read(&path);
        let demand = Demand::expand(&pattern, &Loosened::default());
        let found = patchwork::pieces(&pattern, &demand);
        for (index, block) in pattern.blocks.iter().enumerate().filter(|(_, block)| !block.rows.is_empty()) {
            let patches = geometry::block(block);
            let mut seen: BTreeSet<PieceId> = BTreeSet::new();
            for copy in 1..=block.make {
                let pieces = &found[&(BlockId(index), copy)];
                assert_eq!(pieces.len(), patches.len());
                for (patch, id) in patches.iter().zip(pieces) {
                    if patch.role.is_none() {
                        continue;
                    }
                    let id = id.unwrap_or_else(|| panic!("{}: {} copy {copy}", path.display(), block.name));
                    let piece = demand.piece(id);
                    assert_eq!((Some(piece.role), piece.block), (patch.role, BlockId(index)));
                    seen.insert(id);
                    seen_patches += 1;
                    let plain = match patch.source {
                        Some(Source::Piece(_)) => true,
                        Some(Source::Unit { unit, .. }) => {
                            matches!(block.units[unit].kind, Kind::Patch { .. })
                        }
                        None => false,
                    };
                    if plain {
                        let seams = pattern.sewing.unwrap_or_default().seam;
                        let (width, height) = lying(&patch.corners);
                        let open = (width + seams + seams, height + seams + seams);
                        let cut = (piece.width, piece.height);
                        assert!(cut == open || (cut.1, cut.0) == open, "{cut:?} for {open:?}");
                    }
                }
            }
            let described = block.units.iter().all(|unit| !matches!(unit.kind, Kind::Free { .. }));
            let spare = block.units.iter().any(|unit| unit.way().is_some_and(|way| way.spare > 0));
            if described && !spare {
                let all = demand.pieces.iter().filter(|piece| piece.block == BlockId(index)).count();
                assert_eq!(seen.len(), all, "{}: {}", path.display(), block.name);
            }
        }
    }
    assert!(seen_patches > 2000, "{seen_patches}");
}

/// The pieces of one role in order of drawing, over all copies, by number within the quilt.
fn in_order(text: &str, role: usize) -> Vec<Vec<usize>> {
    let (pattern, said) = read_toml("shore.toml", text.as_bytes());
    assert!(said.is_empty(), "{}", said[0]);
    let demand = Demand::expand(&pattern, &Loosened::default());
    let of_role = |piece: &&Piece| piece.role.0 == role;
    let mut numbers: BTreeMap<PieceId, usize> = BTreeMap::new();
    for (index, piece) in demand.pieces.iter().enumerate() {
        if of_role(&piece) {
            numbers.insert(PieceId(index), numbers.len() + 1);
        }
    }
    let found = patchwork::pieces(&pattern, &demand);
    found
        .values()
        .map(|copy| copy.iter().flatten().filter_map(|id| numbers.get(id).copied()).collect())
        .collect()
}

#[test]
fn two_units_share_a_batch_also_from_copy_to_copy() {
    let text = "[role]\nA = \"wave\"\nB = \"sand\"\n[[block]]\nname = \"Ripple\"\nmake = 3\nfinished = \"6 x 2 in\"\n\
                rows = [\"H H> H\"]\n[[block.unit]]\nname = \"H\"\nkind = \"half-square triangles\"\n\
                roles = [\"A\", \"B\"]\nfinished = \"2 in\"\nmethod = \"two at a time\"\n";
    // Nine units from five pairs of squares, counted 2, 2 and 1: what a copy lacks comes from another.
    assert_eq!(in_order(text, 0), [[1, 1, 2], [2, 3, 3], [5, 5, 4]]);
    assert_eq!(in_order(text, 1), [[1, 1, 2], [2, 3, 3], [5, 5, 4]]);
}

#[test]
fn geese_made_four_at_a_time_share_their_small_squares_as_they_are_cut() {
    let text = "[role]\nA = \"gull\"\nB = \"sky\"\n[[block]]\nname = \"Gulls\"\nmake = 1\nfinished = \"4 x 8 in\"\n\
                rows = [\"G\", \"G\", \"G\", \"G\"]\n[[block.unit]]\nname = \"G\"\nkind = \"flying geese\"\n\
                roles = [\"A\", \"B\"]\nfinished = \"4 x 2 in\"\nmethod = \"four at a time\"\n";
    assert_eq!(in_order(text, 1), [[1, 3, 2, 3, 1, 4, 2, 4]]);
    assert_eq!(in_order(text, 0), [[1, 1, 1, 1]]);
}

#[test]
fn strips_of_a_set_run_through_all_its_units() {
    let text = "[role]\nA = \"foam\"\nB = \"sand\"\n[[block]]\nname = \"Tide\"\nmake = 2\nfinished = \"4 x 6 in\"\n\
                rows = [\"S S\"]\n[[block.unit]]\nname = \"S\"\nkind = \"strip set\"\nfinished = \"2 x 6 in\"\n\
                roles = [\"A\", \"B\", \"A\"]\nstrip-length = \"12 in\"\n";
    assert_eq!(in_order(text, 0), [[1, 2, 1, 2], [1, 2, 1, 2]]);
}

#[test]
fn every_setting_piece_has_a_piece_of_its_role_and_none_is_left_out() {
    let mut seen = 0;
    for path in patterns() {
        let pattern = read(&path);
        let Some(top) = geometry::top(&pattern) else { continue };
        let demand = Demand::expand(&pattern, &Loosened::default());
        let found = patchwork::setting(&pattern, &demand, &top);
        assert_eq!(found.len(), top.patches.len());
        let mut used: BTreeSet<PieceId> = BTreeSet::new();
        for (patch, id) in top.patches.iter().zip(&found) {
            let id = id.unwrap_or_else(|| panic!("{}: {:?}", path.display(), patch.purpose));
            assert_eq!(demand.piece(id).role, patch.role, "{}", path.display());
            used.insert(id);
            seen += 1;
        }
        // Pieces that lie there whole are each seen once; a border of strips has fewer sides than strips.
        let labels: Vec<String> = top.lines.iter().map(|line| line.label.clone()).collect();
        let strips = pattern.layout.as_ref().is_some_and(|layout| {
            layout.borders.iter().any(|border| border.strip.is_some())
                || layout.sashing.as_ref().is_some_and(|sashing| sashing.strip.is_some())
        });
        let cut = demand.pieces.iter().filter(|piece| labels.contains(&piece.label)).count();
        assert!(strips || used.len() == cut, "{}: {} of {cut}", path.display(), used.len());
    }
    assert!(seen > 100, "{seen}");
}

#[test]
fn each_strip_of_sashing_has_its_own_piece_and_four_side_triangles_one_square() {
    let text = "[role]\nA = \"buoy\"\nB = \"rope\"\n[[block]]\nname = \"X\"\nletter = \"X\"\nfinished = \"4 in\"\nrows = [\"A\"]\n\
                [layout]\nset = \"on point\"\nsetting = \"B\"\nrows = [\"X X X\", \"X X X\"]\nbetween = [\"X X\"]\n\
                [layout.sashing]\nwidth = \"1 in\"\nrole = \"B\"\ncornerstones = \"A\"\n";
    let (pattern, said) = read_toml("buoys.toml", text.as_bytes());
    assert!(said.is_empty(), "{}", said[0]);
    let demand = Demand::expand(&pattern, &Loosened::default());
    let top = geometry::top(&pattern).expect("it adds up");
    let found = patchwork::setting(&pattern, &demand, &top);
    let numbers = |purpose: Purpose| -> Vec<u32> {
        let of_purpose = top.patches.iter().zip(&found).filter(|(patch, _)| patch.purpose == purpose);
        of_purpose.map(|(_, id)| demand.piece(id.expect("a piece")).number).collect()
    };
    assert_eq!(numbers(Purpose::Sashing), (1..=24).collect::<Vec<_>>());
    assert_eq!(numbers(Purpose::SideTriangle), [1, 1, 1, 2, 2, 2]);
    assert_eq!(numbers(Purpose::CornerTriangle), [1, 1, 2, 2]);
}
