/** Whose rules come with a screen: what a page imports, and the classes that it writes. */

import { readFileSync, statSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import ts from 'typescript';

export interface Breach {
  /** File that writes the class. */
  file: string;
  name: string;
  /** Style sheets that have its rules, none of which comes with the screen. */
  sheets: string[];
}

export type Read = (path: string) => string | null;

/** Reads files from the disk. */
export function fromDisk(path: string): string | null {
  return statSync(path, { throwIfNoEntry: false })?.isFile() ? readFileSync(path, 'utf8') : null;
}

/** Every file that comes with these, by static imports; those fetched later are not followed. */
export function comesWith(entries: readonly string[], read: Read): Set<string> {
  const found = new Set<string>();
  const open = [...entries];
  for (let file = open.pop(); file !== undefined; file = open.pop()) {
    if (found.has(file) || read(file) === null) continue;
    found.add(file);
    if (file.endsWith('.css')) continue;
    for (const name of importsOf(file, read(file) ?? '')) {
      const path = join(dirname(file), name);
      const ways = [path, `${path}.ts`, `${path}.tsx`, join(path, 'index.ts')];
      open.push(ways.find((way) => read(way) !== null) ?? path);
    }
  }
  return found;
}

function importsOf(file: string, text: string): string[] {
  return parsed(file, text).statements.flatMap((one) => {
    const is_import = ts.isImportDeclaration(one) || ts.isExportDeclaration(one);
    if (!is_import || !one.moduleSpecifier || !ts.isStringLiteral(one.moduleSpecifier)) return [];
    if (ts.isImportDeclaration(one) && one.importClause?.isTypeOnly) return [];
    if (ts.isExportDeclaration(one) && one.isTypeOnly) return [];
    const { text: name } = one.moduleSpecifier;
    return name.startsWith('.') ? [name] : [];
  });
}

/** Classes whose rules a style sheet has: `alone` needs nothing round it, the rest stands in something. */
export function ruledIn(css: string): Map<string, 'alone' | 'within'> {
  const ruled = new Map<string, 'alone' | 'within'>();
  const plain = css.replace(/\/\*[\s\S]*?\*\//g, '');
  for (const [, selectors = ''] of plain.matchAll(/([^{}@;]+)\{/g))
    for (const selector of selectors.split(',')) {
      const parts = selector.trim().split(/\s*[\s>+~]\s*/);
      for (const [, name = ''] of selector.matchAll(/\.([\w-]+)/g))
        if (ruled.get(name) !== 'alone') ruled.set(name, parts.length === 1 ? 'alone' : 'within');
    }
  return ruled;
}

/** Classes that a file writes, as far as they are written out whole. */
export function classesOf(file: string, text: string): Set<string> {
  const source = parsed(file, text);
  const consts = new Map<string, ts.Expression>();
  const classes = new Set<string>();
  const add = (node: ts.Node, seen: readonly string[] = []): void => {
    if (ts.isIdentifier(node) && !seen.includes(node.text)) {
      const value = consts.get(node.text);
      if (value) add(value, [...seen, node.text]);
    } else if (ts.isConditionalExpression(node)) {
      add(node.whenTrue, seen);
      add(node.whenFalse, seen);
    } else if (ts.isCallExpression(node) || ts.isElementAccessExpression(node)) return;
    else if (ts.isTemplateExpression(node)) {
      for (const word of wholeWords(node)) classes.add(word);
      for (const span of node.templateSpans) if (isApart(node, span)) add(span.expression, seen);
    } else if (ts.isStringLiteralLike(node))
      for (const word of node.text.split(/\s+/)) if (word) classes.add(word);
    if (!ts.isConditionalExpression(node) && !ts.isTemplateExpression(node))
      ts.forEachChild(node, (child) => add(child, seen));
  };
  walk(source, (node) => {
    if (ts.isVariableDeclaration(node) && ts.isIdentifier(node.name) && node.initializer)
      consts.set(node.name.text, node.initializer);
  });
  walk(source, (node) => {
    if (!ts.isJsxAttribute(node) || !node.initializer) return;
    if (['class', 'className', 'place'].includes(node.name.getText(source))) add(node.initializer);
  });
  return classes;
}

/** Whether what is put into a template stands between spaces, so that it is words of its own. */
function isApart(node: ts.TemplateExpression, span: ts.TemplateSpan): boolean {
  const at = node.templateSpans.indexOf(span);
  const before = at === 0 ? node.head.text : (node.templateSpans[at - 1]?.literal.text ?? '');
  return /(^|\s)$/.test(before);
}

/** Words of a template; one that an expression ends, as "hand-", is no class. */
function wholeWords(node: ts.TemplateExpression): string[] {
  const pieces = [node.head.text, ...node.templateSpans.map(({ literal }) => literal.text)];
  const words = pieces.join('§').split(/\s+/);
  return words
    .map((word) => word.replace(/^§+|§+$/g, ''))
    .filter((word) => word !== '' && !word.includes('§') && !word.endsWith('-'));
}

function walk(node: ts.Node, each: (node: ts.Node) => void): void {
  each(node);
  ts.forEachChild(node, (child) => walk(child, each));
}

const trees = new Map<string, ts.SourceFile>();

function parsed(file: string, text: string): ts.SourceFile {
  const kept = trees.get(file);
  if (kept?.text === text) return kept;
  const kind = file.endsWith('.tsx') ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const tree = ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true, kind);
  trees.set(file, tree);
  return tree;
}

/** Classes that come with a screen while their rules do not: `always` comes with every page. */
export function breaches(
  screen: string,
  always: readonly string[],
  sheets: readonly string[],
  read: Read,
): Breach[] {
  const here = comesWith([screen, ...always], read);
  const ruled = sheets.map((sheet) => ({ sheet, names: ruledIn(read(sheet) ?? '') }));
  const found: Breach[] = [];
  for (const file of comesWith([screen], read)) {
    if (file.endsWith('.css')) continue;
    for (const name of classesOf(file, read(file) ?? '')) {
      const all = ruled.filter(({ names }) => names.has(name));
      const alone = all.filter(({ names }) => names.get(name) === 'alone');
      const needed = (alone.length > 0 ? alone : all).map(({ sheet }) => sheet);
      if (needed.length > 0 && !needed.some((sheet) => here.has(sheet)))
        found.push({ file: relative('.', file), name, sheets: needed });
    }
  }
  return found;
}
