//! `need`: arguments, and the use case called with them.

use std::path::PathBuf;

use clap::{Args, ValueEnum};

use crate::app::folder;
use crate::app::need::{
    Asked, Assumptions, Bed, Borders, Cutting, Format, Join, Lost, Meeting, Owned, Package, Requirement,
    Size, Step, mattress, shrinkage, size, strip_width, usual_drop, width,
};
use crate::app::run::Failure;
use crate::app::{Length, Units, options};
use crate::cli::units::UnitsName;
use crate::cli::{Ending, open, print};

const EXAMPLE: &str = "\
Examples:
  cutcloth need pattern.toml --width \"41 1/2\"
  cutcloth need pattern.toml --width 42 --squaring 0 --step quarter-yard --format csv
  cutcloth need pattern.toml --units metric --width \"110 cm\"

Strips are counted as patterns print them, one depth for each size; beside them stands the least length for
which a cutting with straight cuts was found, and the length below which there is none.";

const COVER_OR_STASH: &str = "--cover writes what the pattern takes when nothing is owned, and --stash asks what is still \
to buy; run need once with each";

#[derive(Args, Debug)]
#[command(after_help = EXAMPLE)]
pub(super) struct NeedArguments {
    /// The pattern: a cutting chart (CSV) or a pattern file (TOML).
    #[arg(value_name = "PATTERN")]
    pattern: PathBuf,
    /// Which of the pattern's sizes is told in full; the main one unless given. All stand side by side.
    #[arg(long, value_name = "NAME")]
    size: Option<String>,
    /// Fabric you have (CSV): only what it leaves is to be bought.
    #[arg(long, value_name = "STASH.csv")]
    stash: Option<PathBuf>,
    /// What squaring up takes off the width and, once more, off the length of every sheet you own whose row does not say.
    /// A strip loses it off its width only (at the ends), yardage off its length only.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length, default_value = "0", requires = "stash")]
    allowance: Length,
    /// Usable width of the fabric; 40 in unless given, and amounts at 42 in are shown as well. With metric units 100 and
    /// 105 cm.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = width)]
    width: Option<Length>,
    /// The shop's step that amounts are rounded up to; 1/8 yd, or 0.1 m with metric units, unless given.
    #[arg(long, value_enum)]
    step: Option<StepName>,
    /// Added once to each fabric for squaring up its ends; 1 in, or 2.5 cm with metric units, unless given.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length)]
    squaring: Option<Length>,
    /// Spare in percent of the exact length.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true, value_parser = percent::<0, 100>, default_value_t = 0)]
    spare: u32,
    /// One whole strip spare for fabrics with a strip deeper than this.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length)]
    spare_strip: Option<Length>,
    /// How borders are cut.
    #[arg(long, value_enum, default_value_t = BordersName::AsWritten)]
    borders: BordersName,
    /// How borders meet in the corners; as the pattern says unless given. Corner squares stay.
    #[arg(long, value_enum)]
    border_corners: Option<CornersName>,
    /// How border strips are joined; as the pattern says unless given.
    #[arg(long, value_enum)]
    border_join: Option<JoinName>,
    /// Borders across the fabric must be in one piece.
    #[arg(long)]
    no_joins: bool,
    /// A role whose print has an up: its pieces are not turned. May be given several times.
    #[arg(long, value_name = "ROLE")]
    directional: Vec<String>,
    /// Cut width of the binding strips; 2 1/2 in, or 6.5 cm with metric units, unless given.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = strip_width)]
    binding: Option<Length>,
    /// How binding strips are joined.
    #[arg(long, value_enum, default_value_t = JoinName::Diagonal)]
    binding_join: JoinName,
    /// Binding on the bias, from one square.
    #[arg(long)]
    bias: bool,
    /// Side of a square at hand for binding on the bias: tells how much it gives.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length, requires = "bias")]
    bias_square: Option<Length>,
    /// Added to the quilt's perimeter for the binding; 10 in, or 25 cm with metric units, unless given.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length)]
    binding_extra: Option<Length>,
    /// What backing and batting are larger than the top, both sides together; 8 in, or 20 cm with metric units, unless
    /// given.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length)]
    overage: Option<Length>,
    /// Usable width of the backing fabric, when it is another.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = width)]
    backing_width: Option<Length>,
    /// Shrinkage of fabric that is washed before cutting, in percent across and along: 5,2.5 or 4 for both.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true, value_parser = shrinkage)]
    prewash: Option<Lost>,
    /// Also write a page for the pattern's cover: what to buy and how every length is cut, drawn (HTML).
    #[arg(long, value_name = "FILE.html")]
    cover: Option<PathBuf>,
    /// Which cutting the cover shows and buys for.
    #[arg(long, value_enum, default_value_t = CutByName::Strips, requires = "cover")]
    cut_by: CutByName,
    /// Date for the cover, printed as you write it.
    #[arg(long, value_name = "TEXT", requires = "cover")]
    date: Option<String>,
    /// Replace the cover's file if there is one.
    #[arg(long, requires = "cover")]
    force: bool,
    /// Batting that may be bought, width x height, in place of the usual packages. May be given several times.
    #[arg(long, value_name = "SIZE", allow_hyphen_values = true, value_parser = size)]
    batting_package: Vec<Size>,
    /// The mattress the quilt is for: a name such as queen, or width x length.
    #[arg(long, value_name = "MATTRESS", allow_hyphen_values = true, value_parser = mattress)]
    bed: Option<Size>,
    /// With --bed: how far the quilt hangs down at both sides and the foot; 12 in, or 30 cm with metric units, unless
    /// given.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length, requires = "bed")]
    drop: Option<Length>,
    /// With --bed: what the quilt is longer at the head, for the pillows.
    #[arg(long, value_name = "LENGTH", allow_hyphen_values = true, value_parser = options::length, default_value = "0 in", requires = "bed")]
    tuck: Length,
    /// With --bed: percent of the quilt's width and length lost in quilting and washing: 2.6,2.2 or 3 for both.
    #[arg(long, requires = "bed", value_name = "PERCENT", allow_hyphen_values = true, value_parser = shrinkage, default_value = "0")]
    quilt_shrinks: Lost,
    /// List the cuts of the least length in working order.
    #[arg(long)]
    cutting: bool,
    /// Units in which lengths are shown; each piece and amount is rounded up on that ruler.
    #[arg(long, value_enum, default_value_t = UnitsName::Inches)]
    units: UnitsName,
    /// How the answer is written.
    #[arg(long, value_enum, default_value_t = FormatName::Text)]
    format: FormatName,
    /// How much searching may be done, in percent of the usual.
    #[arg(long, value_name = "PERCENT", allow_hyphen_values = true, value_parser = percent::<1, 10_000>, default_value_t = 100)]
    effort: u32,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum StepName {
    EighthYard,
    QuarterYard,
    ThirdYard,
    TenthMetre,
    QuarterMetre,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum BordersName {
    AsWritten,
    Crosswise,
    Lengthwise,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum CutByName {
    Strips,
    Least,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum JoinName {
    Diagonal,
    Straight,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum CornersName {
    Butted,
    Mitred,
}

impl From<JoinName> for Join {
    fn from(name: JoinName) -> Join {
        match name {
            JoinName::Diagonal => Join::Diagonal,
            JoinName::Straight => Join::Straight,
        }
    }
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum FormatName {
    Text,
    Csv,
    Json,
}

fn percent<const LEAST: u32, const MOST: u32>(text: &str) -> Result<u32, String> {
    options::percent(text, LEAST, MOST)
}

pub(super) fn need(arguments: &NeedArguments) -> Ending {
    let named = [Some(&arguments.pattern), arguments.stash.as_ref()];
    let Some(files) = open(named.into_iter().flatten().map(AsRef::as_ref)) else { return Ending::BadInput };
    let mut files = files.into_iter();
    let Some(file) = files.next() else { return Ending::BadInput };
    let stash = files.next();
    if stash.is_some() && arguments.cover.is_some() {
        return print::refused(COVER_OR_STASH, Ending::BadInput);
    }
    let how = assumptions(arguments);
    let owned =
        stash.as_ref().map(|stash| Owned { stash, allowance: arguments.allowance, effort: arguments.effort });
    let asked = Asked { pattern: &file, size: arguments.size.as_deref(), how: &how, owned };
    match Requirement::of(&asked) {
        Ok(answer) => {
            print::diagnostics(&answer.said);
            if let Some(place) = &arguments.cover {
                let which = match arguments.cut_by {
                    CutByName::Strips => Cutting::Strips,
                    CutByName::Least => Cutting::Least,
                };
                match answer.cover(which, arguments.date.as_deref()) {
                    Ok(page) => {
                        if let Err(error) = folder::write_file(place, &page, arguments.force) {
                            return print::refused(&error.to_string(), Ending::BadInput);
                        }
                    }
                    Err(said) => return print::own_mistake(&[said]),
                }
            }
            let written = answer.written(arguments.format());
            match arguments.format {
                FormatName::Text => print::text(&String::from_utf8_lossy(&written)),
                FormatName::Csv | FormatName::Json => print::out(&written),
            }
            .then(Ending::Done)
        }
        Err(Failure::Inputs(said)) => {
            print::diagnostics(&said);
            Ending::BadInput
        }
        Err(Failure::Internal(said)) => print::own_mistake(&said),
    }
}

impl NeedArguments {
    fn format(&self) -> Format {
        match self.format {
            FormatName::Text => Format::Text,
            FormatName::Csv => Format::Csv,
            FormatName::Json => Format::Json,
        }
    }
}

fn assumptions(arguments: &NeedArguments) -> Assumptions {
    let units: Units = arguments.units.into();
    let usual = Assumptions::usual(units);
    let mut finish = usual.finish;
    finish.strip_width = arguments.binding.unwrap_or(finish.strip_width);
    finish.join = arguments.binding_join.into();
    finish.extra = arguments.binding_extra.unwrap_or(finish.extra);
    finish.bias = arguments.bias;
    finish.bias_square = arguments.bias_square;
    if !arguments.batting_package.is_empty() {
        let package = |&size: &Size| Package { name: String::new(), size };
        finish.packages = arguments.batting_package.iter().map(package).collect();
    }
    finish.bed = arguments.bed.map(|mattress| Bed {
        mattress,
        drop: arguments.drop.unwrap_or(usual_drop(units)),
        tuck: arguments.tuck,
        shrinks: arguments.quilt_shrinks,
    });
    finish.overage = arguments.overage.unwrap_or(finish.overage);
    finish.backing_width = arguments.backing_width;
    let mut spare = usual.spare;
    spare.squaring = arguments.squaring.unwrap_or(spare.squaring);
    spare.percent = arguments.spare;
    spare.strip_over = arguments.spare_strip;
    let how = Assumptions {
        width: arguments.width.unwrap_or(usual.width),
        step: match arguments.step {
            None => usual.step,
            Some(StepName::EighthYard) => Step::EighthYard,
            Some(StepName::QuarterYard) => Step::QuarterYard,
            Some(StepName::ThirdYard) => Step::ThirdYard,
            Some(StepName::TenthMetre) => Step::TenthMetre,
            Some(StepName::QuarterMetre) => Step::QuarterMetre,
        },
        spare,
        borders: match arguments.borders {
            BordersName::AsWritten => Borders::AsWritten,
            BordersName::Crosswise => Borders::Crosswise,
            BordersName::Lengthwise => Borders::Lengthwise,
        },
        joins: !arguments.no_joins,
        corners: arguments.border_corners.map(|corners| match corners {
            CornersName::Butted => Meeting::Butted,
            CornersName::Mitred => Meeting::Mitred,
        }),
        border_join: arguments.border_join.map(Join::from),
        directional: arguments.directional.clone(),
        finish,
        units,
        cutting: arguments.cutting,
        work: usual.work / 100 * u64::from(arguments.effort),
        ..usual
    };
    match arguments.prewash {
        Some(lost) => how.washed(lost),
        None => how,
    }
}
