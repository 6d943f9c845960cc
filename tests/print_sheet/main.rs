//! The print sheet and the files beside it, from plans made by hand.

mod files;
mod markup;
mod sheet;
mod tidepool;
