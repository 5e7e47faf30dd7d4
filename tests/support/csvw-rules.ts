/**
 * What CSVW metadata must be, as far as their structure tells. Source: W3C Recommendation "Metadata Vocabulary for Tabular Data",
 * 17 December 2015: top-level properties (5.2), table groups (5.3), tables (5.4), schemas (5.5), columns (5.6), inherited
 * properties (5.7), common properties (5.8), dialects (5.9), datatypes (5.11). The lists are written from memory of it.
 */
type Properties = Readonly<Record<string, unknown>>;

const INHERITED = [
  'aboutUrl',
  'datatype',
  'default',
  'lang',
  'null',
  'ordered',
  'propertyUrl',
  'required',
  'separator',
  'textDirection',
  'valueUrl',
];
const OF_TABLES = ['@id', '@type', 'notes', 'tableDirection', 'tableSchema', 'transformations', 'dialect'];
const GROUP = [...INHERITED, ...OF_TABLES, '@context', 'tables'];
const TABLE = [...INHERITED, ...OF_TABLES, 'url', 'suppressOutput'];
const SCHEMA = [...INHERITED, '@id', '@type', 'columns', 'foreignKeys', 'primaryKey', 'rowTitles'];
const COLUMN = [...INHERITED, '@id', '@type', 'name', 'suppressOutput', 'titles', 'virtual'];

/** Prefixes of the initial context of RDFa that are in use here. */
const PREFIXES = ['dc', 'rdfs', 'schema'];
/** The built-in datatypes that are in use here. */
const DATATYPES = ['string', 'double', 'integer', 'boolean'];

const isText = (value: unknown): boolean => typeof value === 'string';
const isFlag = (value: unknown): boolean => typeof value === 'boolean';
const isCount = (value: unknown): boolean => Number.isInteger(value) && Number(value) >= 0;
const isTexts = (value: unknown): boolean =>
  isText(value) || (Array.isArray(value) && value.length > 0 && value.every(isText));
const DIALECT: Readonly<Record<string, (value: unknown) => boolean>> = {
  commentPrefix: (value) => isText(value) && value !== '',
  delimiter: isText,
  doubleQuote: isFlag,
  encoding: isText,
  header: isFlag,
  headerRowCount: isCount,
  lineTerminators: isTexts,
  quoteChar: (value) => value === null || (isText(value) && String(value).length === 1),
  skipBlankRows: isFlag,
  skipColumns: isCount,
  skipInitialSpace: isFlag,
  skipRows: isCount,
  trim: (value) => isFlag(value) || ['true', 'false', 'start', 'end'].includes(String(value)),
};

/** A name is a variable of a URI template (RFC 6570, 2.3) that does not begin with `_`. */
const VARIABLE = /^(?!_)([A-Za-z0-9_]|%[0-9A-Fa-f]{2})(\.?([A-Za-z0-9_]|%[0-9A-Fa-f]{2}))*$/;

/** Keys are those of the vocabulary, or common properties with a prefix; what common ones hold is text here. */
function keyFaults(where: string, object: Properties, allowed: readonly string[]): string[] {
  return Object.entries(object).flatMap(([key, value]) => {
    if (allowed.includes(key)) return [];
    if (!PREFIXES.includes(key.split(':')[0]) || !key.includes(':')) return [`${where}: no property ${key}`];
    return isText(value) ? [] : [`${where}: ${key} is no text`];
  });
}

function columnFaults(where: string, column: Properties): string[] {
  const faults = keyFaults(where, column, COLUMN);
  if (!isText(column.name) || !VARIABLE.test(String(column.name))) faults.push(`${where}: name`);
  if (!isTexts(column.titles)) faults.push(`${where}: titles`);
  if (!DATATYPES.includes(String(column.datatype))) faults.push(`${where}: datatype`);
  if (!isTexts(column.null)) faults.push(`${where}: null`);
  if ('required' in column && !isFlag(column.required)) faults.push(`${where}: required`);
  return faults;
}

function schemaFaults(where: string, schema: Properties): string[] {
  const columns = (Array.isArray(schema.columns) ? schema.columns : []) as Properties[];
  const names = columns.map(({ name }) => name);
  const key = [schema.primaryKey ?? []].flat();
  return [
    ...keyFaults(where, schema, SCHEMA),
    ...(columns.length === 0 ? [`${where}: columns`] : []),
    ...columns.flatMap((column, i) => columnFaults(`${where}, column ${i + 1}`, column)),
    ...(new Set(names).size < names.length ? [`${where}: two columns of one name`] : []),
    ...key.filter((name) => !names.includes(name)).map((name) => `${where}: primaryKey ${String(name)}`),
  ];
}

function contextFault(context: unknown): string[] {
  const [url, local, ...rest] = [context].flat() as [unknown, Properties | undefined];
  const isLocal =
    local === undefined || Object.keys(local).every((key) => ['@base', '@language'].includes(key));
  return url === 'http://www.w3.org/ns/csvw' && isLocal && rest.length === 0 ? [] : ['@context'];
}

/** What is wrong with metadata of a group of tables; empty where nothing is. */
export function csvwFaults(metadata: Properties): string[] {
  const tables = (Array.isArray(metadata.tables) ? metadata.tables : []) as Properties[];
  const dialect = (metadata.dialect ?? {}) as Properties;
  const urls = tables.map(({ url }) => url);
  return [
    ...contextFault(metadata['@context']),
    ...keyFaults('group', metadata, GROUP),
    ...(tables.length === 0 ? ['group: tables'] : []),
    ...(new Set(urls).size < urls.length ? ['group: two tables of one url'] : []),
    ...Object.entries(dialect).flatMap(([key, value]) => (DIALECT[key]?.(value) ? [] : [`dialect: ${key}`])),
    ...tables.flatMap((table, i) => [
      ...keyFaults(`table ${i + 1}`, table, TABLE),
      ...(isText(table.url) && URL.canParse(String(table.url), 'https://unit.example/')
        ? []
        : [`table ${i + 1}: url`]),
      ...schemaFaults(`table ${i + 1}`, (table.tableSchema ?? {}) as Properties),
    ]),
  ];
}
