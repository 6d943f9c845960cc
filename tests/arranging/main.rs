//! Where the blocks of a quilt lie: against all arrangements of small grids, and from file to checked record.

mod files;
mod grids;
