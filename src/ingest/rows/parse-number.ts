const ZERO = 48;
/** 10^k for k from 0 to 15: all of them exact, as is a mantissa of up to 15 digits. */
export const POWERS_OF_TEN = Float64Array.from({ length: 16 }, (_, k) => 10 ** k);

/**
 * A plain decimal number, as RFC 4180 cells hold it: sign, digits, at most one point; an exponent is allowed.
 * Read as mantissa / 10^k, both exact, so that the result is the nearest double.
 *
 * @returns NaN where the text is anything else (blank, hexadecimal, decimal comma, words)
 */
export function parseDecimal(text: string): number {
  let i = text.charCodeAt(0) === 45 || text.charCodeAt(0) === 43 ? 1 : 0;
  const start = i;
  let mantissa = 0;
  let digits = 0;
  let pointAt = -1;
  for (; i < text.length; i++) {
    const digit = text.charCodeAt(i) - ZERO;
    if (digit >= 0 && digit <= 9) {
      mantissa = mantissa * 10 + digit;
      digits++;
    } else if (text.charCodeAt(i) === 46 && pointAt < 0) pointAt = i;
    else return parseExponent(text);
  }
  if (digits === 0) return Number.NaN;
  if (digits > 15) return Number(text);
  const size = pointAt < 0 ? mantissa : mantissa / POWERS_OF_TEN[text.length - pointAt - 1];
  return start === 1 && text.charCodeAt(0) === 45 ? -size : size;
}

const parseExponent = (text: string): number =>
  /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)[eE][+-]?\d+$/.test(text) ? Number(text) : Number.NaN;

/** Number of digits behind the point, an exponent taken in; 0 where there is no point. */
export function decimalsOf(text: string): number {
  const exponent = Math.max(text.indexOf('e'), text.indexOf('E'));
  const end = exponent < 0 ? text.length : exponent;
  const point = text.indexOf('.');
  const behind = point < 0 ? 0 : end - point - 1;
  return exponent < 0 ? behind : Math.max(0, behind - Number(text.slice(exponent + 1)));
}
