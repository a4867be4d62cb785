//! The job book in a browser: pages drawn on the server, forms that work without a script, and the same reads and writes as JSON. It must never
//! reckon anything of the trade: it asks the crates below and shows what they answer.

pub mod doors;
