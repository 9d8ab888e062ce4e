// @ts-check
/** Cells from a clipboard, and cells put into a table. Pure: nothing here touches the page. */

/**
 * Cells of pasted text: tabs as a spreadsheet gives them, quotation marks undone.
 * @param {string} text @returns {string[][]}
 */
export function cellsOf(text) {
  /** @type {string[][]} */
  const rows = [[]];
  let cell = "";
  let quoted = false;
  const source = text.replace(/\r\n?/g, "\n").replace(/\n$/, "");
  for (let i = 0; i < source.length; i += 1) {
    const sign = source[i];
    if (quoted) {
      if (sign === '"' && source[i + 1] === '"') {
        cell += '"';
        i += 1;
      } else if (sign === '"') quoted = false;
      else cell += sign;
    } else if (sign === '"' && cell === "") quoted = true;
    else if (sign === "\t" || sign === "\n") {
      rows[rows.length - 1].push(cell);
      cell = "";
      if (sign === "\n") rows.push([]);
    } else cell += sign;
  }
  rows[rows.length - 1].push(cell);
  return rows;
}

/**
 * The table with cells put in from a row and column on; it grows downwards as needed, never to the right.
 * @param {string[][]} rows headings first @param {string[][]} cells @param {number} row @param {number} column
 * @returns {{ rows: string[][], lost: number }} lost: cells that had no column
 */
export function pasted(rows, cells, row, column) {
  const width = rows[0]?.length ?? 0;
  const next = rows.map((line) => [...line]);
  let lost = 0;
  cells.forEach((line, i) => {
    while (next.length <= row + i) next.push(Array(width).fill(""));
    line.forEach((cell, j) => {
      if (column + j < width) next[row + i][column + j] = cell.trim();
      else if (cell.trim()) lost += 1;
    });
  });
  return { rows: next, lost };
}
