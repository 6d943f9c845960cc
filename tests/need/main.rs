//! What a pattern needs bought: jobs with invented numbers, published patterns, published figures.

mod answers;
mod borders;
mod cases;
mod command;
mod cover;
mod exhaustive;
mod finishing;
mod jobs;
mod owned;
mod published;
mod sizes;
mod values;
