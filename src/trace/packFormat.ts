/** What the writer and the reader of packed traces agree on. */

/** Characters a cell can hold in every host (Excel's own limit). */
export const CELL_LIMIT = 32_767;
/** Cells a packed trace may fill. */
export const MAX_CELLS = 4;
/** Samples that share one Rice parameter. */
export const BLOCK = 64;
/** Bits of a Rice parameter. */
export const PARAMETER_BITS = 5;
/** A unary quotient is below this, so that one look at 25 bits shows all of it. */
export const QUOTIENT_LIMIT = 24;
/** Largest whole number of steps a force may be; twice of it still fits 32 bits as a difference. */
export const LARGEST_COUNT = 2 ** 30 - 1;
/** First word of a packed trace, with the version of the format. */
export const TRACE_MARK = "LEAPF1";
/** First word of a record of times. */
export const TIMES_MARK = "LEAPT1";
/** The base64 alphabet (RFC 4648, table 1), written without padding. */
export const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
