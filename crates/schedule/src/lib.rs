//! Tasks on machines with gaps that depend on when one starts: a first order by local search, then the best one with its proof or its bound. It
//! must never know a wall, a coat or a date: days are whole numbers and money is a whole number.
