//! The print sheet and the files beside it, from plans made by hand.

mod drawing;
mod files;
mod markup;
mod no_fit;
mod sheet;
mod tidepool;
