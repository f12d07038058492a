//! Room for decoded pictures: a bound on how much memory they take at once.

use std::sync::{Condvar, Mutex, MutexGuard, PoisonError};

/// How many bytes of decoded pixels are held at once: one photo of the largest
/// size that is taken, or five of 12 megapixels.
const BYTES: u64 = 192_000_000;

/// A number of bytes that is handed out and comes back.
pub struct Room {
    free: Mutex<u64>,
    came_back: Condvar,
}

/// A part of the room; it goes back when this is dropped.
pub struct Place<'a> {
    room: &'a Room,
    bytes: u64,
}

impl Default for Room {
    fn default() -> Self {
        Self {
            free: Mutex::new(BYTES),
            came_back: Condvar::new(),
        }
    }
}

impl Room {
    /// Waits until there is room for `bytes`. What is larger than the whole room
    /// waits until it has all of it.
    pub fn take(&self, bytes: u64) -> Place<'_> {
        let bytes = bytes.min(BYTES);
        let mut free = self
            .came_back
            .wait_while(self.free(), |free| *free < bytes)
            .unwrap_or_else(PoisonError::into_inner);
        *free -= bytes;
        Place { room: self, bytes }
    }

    fn free(&self) -> MutexGuard<'_, u64> {
        self.free.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Drop for Place<'_> {
    fn drop(&mut self) {
        *self.room.free() += self.bytes;
        self.room.came_back.notify_all();
    }
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::{AtomicU64, Ordering};
    use std::thread;

    use super::*;

    /// Eight at once, each of a third of the room: never more than three inside.
    #[test]
    fn what_does_not_fit_waits() {
        let room = Room::default();
        let (inside, most) = (AtomicU64::new(0), AtomicU64::new(0));
        thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| {
                    let place = room.take(BYTES / 3);
                    let now = inside.fetch_add(1, Ordering::SeqCst) + 1;
                    most.fetch_max(now, Ordering::SeqCst);
                    thread::sleep(std::time::Duration::from_millis(5));
                    inside.fetch_sub(1, Ordering::SeqCst);
                    drop(place);
                });
            }
        });
        assert_eq!(most.into_inner(), 3);
        assert_eq!(*room.free(), BYTES);
    }

    #[test]
    fn what_is_larger_than_the_room_gets_all_of_it() {
        let room = Room::default();
        drop(room.take(BYTES * 4));
        assert_eq!(*room.free(), BYTES);
    }
}
