//! The job book as its users see it: what goes in comes out, history goes both ways, many read and write at once, and nothing acknowledged is
//! lost when the machine stops.

mod backups;
mod jobs;
mod killed;
mod support;
mod together;
