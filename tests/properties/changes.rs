//! What is done to a stash and a pattern before it is asked again.

use cutcloth::fabric::Cut;
use cutcloth::length::Length;
use cutcloth::pattern::RoleId;
use cutcloth::stash::PrintId;
use rand::Rng;
use rand::rngs::SmallRng;
use rand::seq::{IndexedRandom, SliceRandom};

use crate::drawn::{lot, up};
use crate::table::{Table, e};

/// One lot more, of a print held already or of a new one.
pub(crate) fn more_fabric(table: &Table, random: &mut SmallRng) -> Table {
    let mut more = table.clone();
    let print = random.random_range(0..=table.stash.prints.len());
    lot(&mut more, print, up(table, print), random);
    more
}

/// A copy of a block less, or a line of pieces.
pub(crate) fn fewer_pieces(table: &Table, random: &mut SmallRng) -> Option<Table> {
    let mut fewer = table.clone();
    let block = random.random_range(0..fewer.pattern.blocks.len());
    let block = &mut fewer.pattern.blocks[block];
    if block.make > 1 && random.random_range(0..2) == 0 {
        block.make -= 1;
    } else if block.pieces.len() > 1 {
        block.pieces.remove(random.random_range(0..block.pieces.len()));
    } else {
        return None;
    }
    Some(fewer)
}

/// One way to change a table.
type Way = Box<dyn FnOnce(&mut Table)>;

/// A rule, a limit to cuts of fabric, or the keeping back of a lot is given up.
pub(crate) fn wish_given_up(table: &Table, random: &mut SmallRng) -> Option<Table> {
    let mut freer = table.clone();
    let mut ways: Vec<Way> = Vec::new();
    for (number, role) in table.pattern.roles.iter().enumerate() {
        if !role.rules.different.is_empty() {
            ways.push(Box::new(move |t| t.pattern.roles[number].rules.different.clear()));
        }
        if role.rules.at_most.is_some() {
            ways.push(Box::new(move |t| t.pattern.roles[number].rules.at_most = None));
        }
        if !role.rules.never.prints.is_empty() {
            ways.push(Box::new(move |t| t.pattern.roles[number].rules.never.prints.clear()));
        }
        if !role.from.is_empty() {
            ways.push(Box::new(move |t| t.pattern.roles[number].from.clear()));
        }
    }
    for number in (0..table.stash.lots.len()).filter(|&number| table.stash.lots[number].keep) {
        ways.push(Box::new(move |t| t.stash.lots[number].keep = false));
    }
    for print in (0..table.stash.prints.len()).filter(|&print| up(table, print)) {
        ways.push(Box::new(move |t| {
            t.stash
                .lots
                .iter_mut()
                .filter(|lot| lot.print.0 == print)
                .for_each(|lot| lot.directional = false);
        }));
    }
    ways.shuffle(random);
    ways.pop()?(&mut freer);
    Some(freer)
}

/// A lot of yardage is longer: what is not used of it does not count.
pub(crate) fn longer_yardage(table: &Table, random: &mut SmallRng) -> Option<Table> {
    let mut longer = table.clone();
    let yardage = Cut::find("yardage").expect("it is known");
    let mut lots: Vec<_> = longer.stash.lots.iter_mut().filter(|lot| lot.cut == yardage).collect();
    if lots.is_empty() {
        return None;
    }
    let place = random.random_range(0..lots.len());
    lots[place].length += e(*[1, 8, 20].choose(random).expect("three"));
    Some(longer)
}

/// Two of every sheet, two of every block, and twice as many copies alike where that is limited.
pub(crate) fn twice(table: &Table) -> Table {
    let mut twice = table.clone();
    twice.stash.lots.iter_mut().for_each(|lot| lot.count *= 2);
    twice.pattern.blocks.iter_mut().for_each(|block| block.make *= 2);
    for role in &mut twice.pattern.roles {
        role.rules.at_most = role.rules.at_most.map(|most| 2 * most);
    }
    twice
}

/// Width and length of every lot and piece change places; the up goes with them. Yardage is used by its length alone, so a
/// stash with yardage cannot be turned.
pub(crate) fn turned(table: &Table) -> Option<Table> {
    let mut turned = table.clone();
    let yardage = Cut::find("yardage").expect("it is known");
    for lot in &mut turned.stash.lots {
        if lot.cut == yardage {
            return None;
        }
        (lot.width, lot.length) = (lot.length, lot.width);
    }
    for piece in turned.pattern.blocks.iter_mut().flat_map(|block| &mut block.pieces) {
        (piece.width, piece.height) = (piece.height, piece.width);
    }
    Some(turned)
}

/// Every length so many times as long.
pub(crate) fn scaled(table: &Table, by: i64) -> Table {
    let times = |length: &mut Length| *length = Length::from_ticks(length.ticks() * by);
    let mut scaled = table.clone();
    for lot in &mut scaled.stash.lots {
        times(&mut lot.width);
        times(&mut lot.length);
        times(&mut lot.allowance);
    }
    for piece in scaled.pattern.blocks.iter_mut().flat_map(|block| &mut block.pieces) {
        times(&mut piece.width);
        times(&mut piece.height);
    }
    scaled
}

/// A new order of so many things: which of the old comes at each place, and at which place each of the old comes.
fn order(many: usize, random: &mut SmallRng) -> (Vec<usize>, Vec<usize>) {
    let mut old: Vec<usize> = (0..many).collect();
    old.shuffle(random);
    let mut place = vec![0; many];
    for (new, &of) in old.iter().enumerate() {
        place[of] = new;
    }
    (old, place)
}

/// New names for prints, roles, blocks and pieces; prints, lots, roles, blocks and lines of pieces in another order.
pub(crate) fn renamed(table: &Table, random: &mut SmallRng) -> Table {
    let mut new = table.clone();
    let (prints, print_place) = order(table.stash.prints.len(), random);
    let name_of = |print: usize| format!("{} kelp", (b'z' - u8::try_from(print).expect("few")) as char);
    new.stash.prints = prints.iter().map(|&print| table.stash.prints[print].clone()).collect();
    for (place, &print) in prints.iter().enumerate() {
        new.stash.prints[place].name = name_of(print);
    }
    new.stash.lots.shuffle(random);
    for (number, lot) in new.stash.lots.iter_mut().enumerate() {
        lot.row = Some(u32::try_from(number + 1).expect("few"));
        lot.print = PrintId(print_place[lot.print.0]);
    }
    let (roles, role_place) = order(table.pattern.roles.len(), random);
    new.pattern.roles = roles.iter().map(|&role| table.pattern.roles[role].clone()).collect();
    for (place, role) in new.pattern.roles.iter_mut().enumerate() {
        role.name = format!("{place} of the tide");
        for other in &mut role.rules.different {
            *other = RoleId(role_place[other.0]);
        }
        for print in &mut role.rules.never.prints {
            // A print without a lot is named by no one in the stash; any new name will do.
            let old = table.stash.prints.iter().position(|held| held.name == *print);
            *print = old.map_or("nowhere".into(), name_of);
        }
    }
    new.pattern.blocks.shuffle(random);
    for (number, block) in new.pattern.blocks.iter_mut().enumerate() {
        block.name = format!("{number} urchin");
        block.pieces.shuffle(random);
        for (line, piece) in block.pieces.iter_mut().enumerate() {
            piece.label = format!("{line} shell");
            piece.role = RoleId(role_place[piece.role.0]);
        }
    }
    new
}
