//! What a pattern needs bought: read, worked out, written as text, CSV or JSON.

mod cover;
mod cover_words;
mod csv;
mod json;
mod more;
mod owned;
mod shopping;
mod sizes;
mod text;
mod unheard;

use crate::app::Given;
use crate::app::check;
use crate::app::given::at_size;
use crate::app::need::owned::Shopping;
use crate::app::need::sizes::SizeNeed;
use crate::app::options;
use crate::app::run::Failure;
use crate::diagnostic::{Diagnostic, Place, any_error};
use crate::length::{self, Direction, Length, Unit, Units};
use crate::need::bed::{self, MATTRESSES, Mattress};
use crate::need::{Need, Percent, need};
use crate::pattern::{self, Pattern};
use crate::report::fingerprint;

pub use owned::Owned;

pub use crate::need::batting::Package;
pub use crate::need::{Assumptions, Bed, Borders, Cutting, Join, Lost, Meeting, Step};
pub use crate::pattern::Size;

/// How the requirement is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Format {
    /// For reading.
    Text,
    /// For a spreadsheet.
    Csv,
    /// For a program; lengths in ticks.
    Json,
}

/// What is asked.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// The pattern: a cutting chart or a pattern file.
    pub pattern: &'a Given,
    /// Which of its sizes; `None` for the main one.
    pub size: Option<&'a str>,
    /// What the requirement is worked out under.
    pub how: &'a Assumptions,
    /// What is owned already, if that is to be used first.
    pub owned: Option<Owned<'a>>,
}

/// The answer, ready to be written.
#[derive(Clone, Debug)]
pub struct Requirement {
    /// Notes and warnings about the inputs.
    pub said: Vec<Diagnostic>,
    pattern: Pattern,
    how: Assumptions,
    need: Need,
    sizes: Vec<SizeNeed>,
    shopping: Option<Shopping>,
    inputs: String,
}

impl Requirement {
    /// Works out what is asked.
    ///
    /// # Errors
    /// Everything that is wrong with the pattern or the stash, or that has no answer under the assumptions.
    pub fn of(asked: &Asked<'_>) -> Result<Requirement, Failure> {
        let file = &asked.pattern.name;
        let (pattern, mut said) = pattern::read(file, &asked.pattern.bytes);
        let mistaken = check::misplaced(asked.pattern, asked.owned.map(|owned| owned.stash));
        if !mistaken.is_empty() {
            return Err(Failure::Inputs(mistaken));
        }
        let how = &by_name(&pattern, asked.how);
        let asked = &Asked { how, ..*asked };
        let pattern = at_size(pattern, file, asked.size, &mut said);
        said.extend(unheard::about_borders(&pattern, how, file));
        if asked.owned.is_some() {
            said.extend(unheard::beside_a_stash(how, file));
        }
        if any_error(&said) {
            return Err(Failure::Inputs(said));
        }
        let need = match need(&pattern, how) {
            Ok(need) => need,
            Err(wrong) => {
                let refused = wrong.iter().map(|error| {
                    Diagnostic::error("N100", Place::file(file), error.message(how.units), error.help())
                });
                return Err(Failure::Inputs(said.into_iter().chain(refused).collect()));
            }
        };
        said.extend(unheard::about_finishing(&need, how, file));
        if any_error(&said) {
            return Err(Failure::Inputs(said));
        }
        let (sizes, more) = sizes::sizes(&pattern, &need, how, file);
        said.extend(more);
        let mut shopping = None;
        if let Some(owned) = &asked.owned {
            let (found, heard) = owned::shopping(asked, owned)?;
            said.extend(heard.into_iter().filter(|one| one.place.file == owned.stash.name));
            shopping = Some(found);
        }
        let inputs = fingerprint(&[(file, &asked.pattern.bytes)]);
        Ok(Requirement { said, pattern, how: how.clone(), need, sizes, shopping, inputs })
    }

    /// A page for the pattern's cover: what to buy, and every length of it cut in working order, drawn.
    ///
    /// # Errors
    /// When the drawings do not hold the pieces of the pattern: a mistake of the program.
    pub fn cover(&self, which: Cutting, date: Option<&str>) -> Result<Vec<u8>, String> {
        cover::cover(self, which, date).map(String::into_bytes).map_err(|error| error.to_string())
    }

    /// Mark of the file, its size and all options: pages that may differ carry different ones.
    fn revision(&self, which: Cutting) -> String {
        let options = format!("{:?} {:?} {which:?}", self.pattern.size, self.how);
        fingerprint(&[(&self.inputs, options.as_bytes())])
    }

    /// The answer written out.
    pub fn written(&self, format: Format) -> Vec<u8> {
        match format {
            Format::Text if self.shopping.is_some() => shopping::text(self).into_bytes(),
            Format::Text => text::text(self).into_bytes(),
            Format::Csv => csv::csv(self),
            Format::Json => json::json(self),
        }
    }
}

/// `how` with the names of roles where their titles were given.
fn by_name(pattern: &Pattern, how: &Assumptions) -> Assumptions {
    let mut how = how.clone();
    for given in &mut how.directional {
        if pattern.roles.iter().any(|role| role.name == *given) {
            continue;
        }
        let mut titled =
            pattern.roles.iter().filter(|role| role.title.to_lowercase() == given.to_lowercase());
        // A title that two roles have names neither.
        if let (Some(role), None) = (titled.next(), titled.next()) {
            given.clone_from(&role.name);
        }
    }
    how
}

/// Narrower than any fabric sold by the yard.
const NARROWEST: Length = Length::from_inches(1);
/// Wider than any.
const WIDEST: Length = Length::from_inches(120);

/// Reads a usable width such as `40 1/2` or `110 cm`; a bare number is inches, and what lies between two exact
/// lengths is rounded down.
///
/// # Errors
/// What was expected.
pub fn width(text: &str) -> Result<Length, String> {
    let read = length::parse(text, Unit::Inch, Direction::Down).map_err(|error| error.to_string())?.length;
    if read < NARROWEST || read > WIDEST {
        return Err("expected the usable width of a fabric, from 1 to 120 in".to_owned());
    }
    Ok(read)
}

/// Reads the cut width of binding strips.
///
/// # Errors
/// What was expected.
pub fn strip_width(text: &str) -> Result<Length, String> {
    match options::length(text) {
        Ok(width) if width > Length::ZERO => Ok(width),
        _ => Err("expected a strip width above 0, and no more than 36 in".to_owned()),
    }
}

/// Shrinks more than any fabric for quilts, and more than any quilt.
const MOST_SHRINKAGE: u32 = 25;

/// Reads shrinkage such as `5,2.5` or `4`: percent of the width, then of the length, or one number for both.
///
/// # Errors
/// What was expected.
pub fn shrinkage(text: &str) -> Result<Lost, String> {
    let (across, along) = text.split_once(',').unwrap_or((text, text));
    let percent =
        |text: &str| Percent::read(text).filter(|percent| *percent <= Percent::whole(MOST_SHRINKAGE));
    match (percent(across), percent(along)) {
        (Some(across), Some(along)) => Ok(Lost { across, along }),
        _ => Err(format!(
            "expected percent from 0 to {MOST_SHRINKAGE} with a decimal at most, such as 4.5 for both sides, or 5,2.5: of the \
             width, then of the length"
        )),
    }
}

/// How far a quilt hangs down unless said otherwise.
pub fn usual_drop(units: Units) -> Length {
    bed::usual_drop(units)
}

/// Reads a mattress: a name such as `queen`, or width x length.
///
/// # Errors
/// What was expected.
pub fn mattress(text: &str) -> Result<Size, String> {
    let meant = match Mattress::find(text) {
        Ok(known) => return Ok(known.size()),
        Err(meant) => meant,
    };
    if !meant.is_empty() {
        return Err(format!("more than one mattress is called so; name one of: {}", meant.join(", ")));
    }
    size(text).map_err(|_| {
        let names: Vec<&str> = MATTRESSES.iter().map(|mattress| mattress.name).collect();
        format!("expected width x length, such as \"54 x 75\", or one of: {}", names.join(", "))
    })
}

/// Reads a size such as `81 x 96` or `200 x 220 cm`; bare numbers are inches.
///
/// # Errors
/// What was expected.
pub fn size(text: &str) -> Result<Size, String> {
    let (width, height) =
        length::parse_size(text, Unit::Inch, Direction::Down).map_err(|error| error.to_string())?;
    if width.length <= Length::ZERO || height.length <= Length::ZERO {
        return Err("expected two sides above 0".to_owned());
    }
    Ok(Size { width: width.length, height: height.length })
}
