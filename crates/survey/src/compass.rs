//! The points of the compass in words. It must never say which way is better.

/// The way a wall faces, degrees from north by east, as one of sixteen points of the compass.
pub fn compass(bearing_deg: f64) -> &'static str {
    const POINTS: [&str; 16] = [
        "north",
        "north-north-east",
        "north-east",
        "east-north-east",
        "east",
        "east-south-east",
        "south-east",
        "south-south-east",
        "south",
        "south-south-west",
        "south-west",
        "west-south-west",
        "west",
        "west-north-west",
        "north-west",
        "north-north-west",
    ];
    POINTS[((bearing_deg.rem_euclid(360.0) / 22.5).round() as usize) % 16]
}
