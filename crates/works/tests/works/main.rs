//! Tests of the road from quantities to a price, on invented jobs small enough to work by hand.
#![allow(clippy::unwrap_used, clippy::expect_used)]

mod almanac;
mod consistency;
mod covers;
mod critical_path;
mod edges;
mod fixture;
mod foresight;
mod freed;
mod money;
mod order_of_work;
mod protection;
mod refusals;
mod road;
mod seasons;
mod spoilt;
mod steps;
mod tended;
mod visits;
mod waits;
