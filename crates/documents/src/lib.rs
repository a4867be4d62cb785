//! Documents from a plan: figures, PDF, JSON, CSV, calendar files. It takes a finished plan and returns bytes; it never opens the job book.
