//! What a quilt looks like: which prints look alike, which roles meet, what a choice comes to.

mod choices;
mod contrast;
mod pairs;
mod seams;
