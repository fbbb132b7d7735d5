// Judges a value by a schema of web/openapi.yaml: the part of JSON Schema that the file uses. An
// unknown word in a schema is refused, so that nothing goes unjudged in silence.
import { createRequire } from 'node:module';
import fs from 'node:fs';
import path from 'node:path';
import { root } from './house.mjs';

/** The OpenAPI file as a value, or null when there is no YAML reader among the pages' packages. */
export function read_openapi() {
  const require = createRequire(path.join(root, 'web/package.json'));
  let yaml;
  try {
    yaml = require('js-yaml');
  } catch {
    return null;
  }
  return yaml.load(fs.readFileSync(path.join(root, 'web/openapi.yaml'), 'utf8'));
}

const kinds = {
  object: (value) => value !== null && typeof value === 'object' && !Array.isArray(value),
  array: Array.isArray,
  string: (value) => typeof value === 'string',
  boolean: (value) => typeof value === 'boolean',
  number: (value) => typeof value === 'number' && Number.isFinite(value),
  integer: (value) => Number.isSafeInteger(value),
  null: (value) => value === null,
};

const formats = {
  date: (value) => /^\d{4}-\d\d-\d\d$/.test(value) && !Number.isNaN(Date.parse(value)),
  int64: () => true,
  double: () => true,
  binary: () => true,
};

const words_without_judgement = ['description', 'examples', 'default', 'title'];

export class Judge {
  constructor(openapi) {
    this.openapi = openapi;
  }

  /** What a `$ref` points at. */
  resolve(schema) {
    if (!schema.$ref) return schema;
    let found = this.openapi;
    for (const piece of schema.$ref.replace(/^#\//, '').split('/')) found = found?.[piece];
    if (!found) throw new Error(`web/openapi.yaml has no ${schema.$ref}`);
    return this.resolve(found);
  }

  /** Every trouble of the value, each with where it is; empty when it keeps to the schema. */
  troubles(written, value, where = 'answer') {
    const schema = this.resolve(written);
    const troubles = [];
    const say = (sentence) => troubles.push(`${where} ${sentence}`);
    if (schema.type !== undefined) {
      const types = [schema.type].flat();
      if (!types.some((type) => kinds[type](value))) {
        say(`is ${JSON.stringify(value)?.slice(0, 60)}, not ${types.join(' or ')}`);
        return troubles;
      }
    }
    for (const [word, wanted] of Object.entries(schema)) {
      if (word === 'type' || words_without_judgement.includes(word)) continue;
      const judge = judgements[word];
      if (!judge) throw new Error(`the validator does not know "${word}" at ${where}`);
      judge.call(this, { schema, value, wanted, where, say, troubles });
    }
    return troubles;
  }
}

const judgements = {
  required({ value, wanted, say }) {
    if (!kinds.object(value)) return;
    for (const name of wanted) if (!Object.hasOwn(value, name)) say(`has no ${name}`);
  },
  properties({ value, wanted, where, troubles }) {
    if (!kinds.object(value)) return;
    for (const [name, schema] of Object.entries(wanted)) {
      if (Object.hasOwn(value, name)) {
        troubles.push(...this.troubles(schema, value[name], `${where}.${name}`));
      }
    }
  },
  additionalProperties({ schema, value, wanted, where, say, troubles }) {
    if (!kinds.object(value) || wanted === true) return;
    for (const name of Object.keys(value)) {
      if (Object.hasOwn(schema.properties ?? {}, name)) continue;
      if (wanted === false) say(`has ${name}, which the schema does not know`);
      else troubles.push(...this.troubles(wanted, value[name], `${where}.${name}`));
    }
  },
  items({ value, wanted, where, troubles }) {
    if (!Array.isArray(value)) return;
    value.forEach((item, i) => troubles.push(...this.troubles(wanted, item, `${where}[${i}]`)));
  },
  oneOf({ value, wanted, where, say }) {
    const fitting = wanted.filter((one) => this.troubles(one, value, where).length === 0);
    if (fitting.length === 1) return;
    const nearest = wanted.map((one) => this.troubles(one, value, where))
      .sort((a, b) => b.length - a.length)[0];
    say(`fits ${fitting.length} of ${wanted.length} schemas (${nearest?.[0] ?? ''})`);
  },
  enum({ value, wanted, say }) {
    if (wanted.includes(value)) return;
    say(`is ${JSON.stringify(value)}, not one of ${wanted.join(', ')}`);
  },
  format({ value, wanted, say }) {
    if (!formats[wanted]) throw new Error(`the validator does not know the format ${wanted}`);
    if (typeof value === 'string' && !formats[wanted](value)) say(`is ${value}, not a ${wanted}`);
  },
  minimum({ value, wanted, say }) {
    if (typeof value === 'number' && value < wanted) say(`is ${value}, below ${wanted}`);
  },
  maximum({ value, wanted, say }) {
    if (typeof value === 'number' && value > wanted) say(`is ${value}, above ${wanted}`);
  },
  maxLength({ value, wanted, say }) {
    if (typeof value !== 'string' || value.length <= wanted) return;
    say(`has more than ${wanted} characters`);
  },
};
