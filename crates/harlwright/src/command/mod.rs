//! One module a verb. Each reads its input, calls the road, and writes the result: data on stdout, talk on stderr.

#[cfg(feature = "web")]
pub mod account;
pub mod begin;
pub mod bench;
pub mod book;
pub mod check;
pub mod compare;
pub mod cure;
pub mod demo;
pub mod new;
pub mod order_of_work;
pub mod plan;
pub mod relief;
pub mod schema;
pub mod season;
#[cfg(feature = "web")]
pub mod serve;
pub mod shell;
pub mod site;
pub mod straighten;
pub mod trial;
pub mod weather;
pub mod why;
