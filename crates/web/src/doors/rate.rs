//! How often somebody may try to sign in. Tries are counted by address and by name, in a table that cannot grow without end.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Tries in one window.
const MOST_TRIES: u32 = 8;
/// The window.
const WINDOW: Duration = Duration::from_secs(5 * 60);
/// Most keys kept; beyond them nobody new may try until a window has passed.
const MOST_KEYS: usize = 10_000;

/// The table of tries.
#[derive(Debug, Default)]
pub struct Tries(Mutex<BTreeMap<String, (u32, Instant)>>);

impl Tries {
    /// Counts a try under each key.
    ///
    /// # Errors
    /// How long to wait, if there were too many under one of them.
    pub fn count(&self, keys: &[String], now: Instant) -> Result<(), Duration> {
        let mut table = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        if table.len() + keys.len() > MOST_KEYS {
            table.retain(|_, (_, since)| now.duration_since(*since) < WINDOW);
            if table.len() + keys.len() > MOST_KEYS {
                return Err(WINDOW);
            }
        }
        let mut wait = None;
        for key in keys {
            let (tries, since) = table.entry(key.clone()).or_insert((0, now));
            if now.duration_since(*since) >= WINDOW {
                (*tries, *since) = (0, now);
            }
            *tries = tries.saturating_add(1);
            if *tries > MOST_TRIES {
                wait = wait.max(Some(WINDOW.saturating_sub(now.duration_since(*since))));
            }
        }
        wait.map_or(Ok(()), Err)
    }

    /// Forgets the tries under a key: the right password was given.
    pub fn forget(&self, key: &str) {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).remove(key);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn after_eight_tries_one_waits_for_the_window_to_pass() {
        let (tries, begun) = (Tries::default(), Instant::now());
        let keys = ["name ann".to_owned(), "from 192.0.2.7".to_owned()];
        for second in 0..8 {
            assert_eq!(tries.count(&keys, begun + Duration::from_secs(second)), Ok(()));
        }
        let wait = tries.count(&keys, begun + Duration::from_secs(10));
        assert_eq!(wait, Err(WINDOW - Duration::from_secs(10)));
        assert_eq!(tries.count(&["name bob".to_owned()], begun), Ok(()), "another is not kept waiting");
        assert!(tries.count(&["name bob".to_owned(), "from 192.0.2.7".to_owned()], begun).is_err(), "but from the same address it is");
        assert_eq!(tries.count(&keys, begun + WINDOW), Ok(()));
    }

    #[test]
    fn the_right_password_wipes_the_slate() {
        let (tries, now) = (Tries::default(), Instant::now());
        let key = ["name ann".to_owned()];
        for _ in 0..20 {
            let _ = tries.count(&key, now);
        }
        assert!(tries.count(&key, now).is_err());
        tries.forget(&key[0]);
        assert_eq!(tries.count(&key, now), Ok(()));
    }

    #[test]
    fn a_flood_of_names_cannot_fill_the_memory() {
        let (tries, now) = (Tries::default(), Instant::now());
        let refused = (0..MOST_KEYS + 5).filter(|number| tries.count(&[format!("name {number}")], now).is_err()).count();
        assert_eq!(refused, 5);
        assert_eq!(tries.count(&["name late".to_owned()], now + WINDOW), Ok(()), "when the window has passed there is room again");
    }
}
