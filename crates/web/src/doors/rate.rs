//! How often somebody may try to sign in. Tries are counted by address and by name, in a table that cannot grow without end.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Tries in one window of one name from one address.
pub const MOST_OF_NAME: u32 = 8;
/// Tries in one window from one address, whatever the name: an office may stand behind one.
pub const MOST_FROM_ADDRESS: u32 = 60;
/// The window.
const WINDOW: Duration = Duration::from_secs(5 * 60);
/// Most keys kept; beyond them nobody new may try until a window has passed.
const MOST_KEYS: usize = 10_000;

/// The table of tries.
#[derive(Debug, Default)]
pub struct Tries(Mutex<BTreeMap<String, (u32, Instant)>>);

impl Tries {
    /// Counts a try under each key in turn, each with the most there may be in a window. The first key with too many ends it: a caller past the limit
    /// of its address fills no more of the table with names. A full table refuses only keys that are not in it.
    ///
    /// # Errors
    /// How long to wait, if there were too many under one of them.
    pub fn count(&self, keys: &[(String, u32)], now: Instant) -> Result<(), Duration> {
        let mut table = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        for (key, most) in keys {
            if table.len() >= MOST_KEYS && !table.contains_key(key) {
                table.retain(|_, (_, since)| now.duration_since(*since) < WINDOW);
                if table.len() >= MOST_KEYS {
                    return Err(WINDOW);
                }
            }
            let (tries, since) = table.entry(key.clone()).or_insert((0, now));
            if now.duration_since(*since) >= WINDOW {
                (*tries, *since) = (0, now);
            }
            *tries = tries.saturating_add(1);
            if *tries > *most {
                return Err(WINDOW.saturating_sub(now.duration_since(*since)));
            }
        }
        Ok(())
    }

    /// Forgets the tries under a key: the right password was given.
    pub fn forget(&self, key: &str) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).remove(key);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn named(name: &str) -> (String, u32) {
        (format!("name {name}"), MOST_OF_NAME)
    }

    #[test]
    fn after_eight_tries_one_waits_for_the_window_to_pass() {
        let (tries, begun) = (Tries::default(), Instant::now());
        let keys = [("from 192.0.2.7".to_owned(), 9), named("ann")];
        for second in 0..8 {
            assert_eq!(tries.count(&keys, begun + Duration::from_secs(second)), Ok(()));
        }
        let wait = tries.count(&keys, begun + Duration::from_secs(10));
        assert_eq!(wait, Err(WINDOW - Duration::from_secs(10)));
        assert_eq!(tries.count(&[named("bob")], begun), Ok(()), "another is not kept waiting");
        assert!(tries.count(&[keys[0].clone(), named("bob")], begun).is_err(), "but from the same address it is");
        assert_eq!(tries.count(&keys, begun + WINDOW), Ok(()));
    }

    #[test]
    fn an_address_past_its_limit_fills_no_table() {
        let (tries, now) = (Tries::default(), Instant::now());
        for number in 0..50 {
            let _ = tries.count(&[("from 192.0.2.7".to_owned(), 9), named(&number.to_string())], now);
        }
        let kept = tries.0.lock().unwrap_or_else(PoisonError::into_inner).len();
        assert_eq!(kept, 10, "the address and the nine names it was let try");
    }

    #[test]
    fn the_right_password_wipes_the_slate() {
        let (tries, now) = (Tries::default(), Instant::now());
        let key = [named("ann")];
        for _ in 0..20 {
            let _ = tries.count(&key, now);
        }
        assert!(tries.count(&key, now).is_err());
        tries.forget(&key[0].0);
        assert_eq!(tries.count(&key, now), Ok(()));
    }

    #[test]
    fn a_flood_of_names_cannot_fill_the_memory() {
        let (tries, now) = (Tries::default(), Instant::now());
        let refused = (0..MOST_KEYS + 5).filter(|number| tries.count(&[named(&number.to_string())], now).is_err()).count();
        assert_eq!(refused, 5);
        assert_eq!(tries.count(&[named("0")], now), Ok(()), "who is in the full table is still judged");
        for _ in 2..MOST_OF_NAME {
            assert_eq!(tries.count(&[named("0")], now), Ok(()));
        }
        assert!(tries.count(&[named("0")], now).is_err());
        assert_eq!(tries.count(&[named("late")], now + WINDOW), Ok(()), "when the window has passed there is room again");
    }
}
