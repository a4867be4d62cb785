//! The job file and its one table of fields: parsing, places, schema, help, defaults. It does no I/O and decides nothing.
