//! The job in weather: an invented year made by hand, in which the weather of given days is known.
