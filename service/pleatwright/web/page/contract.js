// What the service's own contract says of each field: its kind, its words, what it may be.

const LENGTHS = ["Length", "SignedLength"];

/**
 * @typedef {Object} Kind
 * @property {"length" | "number" | "text" | "choice" | "switch" | "group" | "union" | "list" | "json"} kind
 * @property {any} schema with every reference followed
 * @property {boolean} nullable
 * @property {string} description
 */

export class Contract {
  /** @param {any} openapi the document at openapi.json */
  constructor(openapi) {
    this._schemas = openapi.components.schemas;
    this._paths = openapi.paths;
  }

  /** Return a component by its name. */
  schema(name) {
    return this._schemas[name] ?? {};
  }

  /** Return a property of a component. */
  property(name, field) {
    return this.schema(name).properties?.[field] ?? {};
  }

  /** Return the examples of an operation's request, by name. */
  examples(path) {
    return this._paths[path]?.post?.requestBody?.content?.["application/json"]?.examples ?? {};
  }

  /** Follow a reference; what stands beside it goes before what it leads to. */
  resolved(node) {
    if (!node.$ref) return node;
    const name = node.$ref.split("/").pop();
    const { $ref, ...beside } = node;
    return { ...this.resolved(this.schema(name)), ...beside, named: name };
  }

  /** @returns {Kind} */
  kind(node) {
    const schema = this.resolved(node);
    const found = { kind: "json", schema, nullable: false, description: schema.description ?? "" };
    if (LENGTHS.includes(schema.named)) return { ...found, kind: "length" };
    if (schema.anyOf) {
      const others = schema.anyOf.filter((each) => each.type !== "null");
      const nullable = others.length < schema.anyOf.length;
      if (others.length !== 1) return { ...found, nullable };
      const inner = this.kind(others[0]);
      return { ...inner, nullable, description: schema.description ?? inner.description, default: schema.default };
    }
    if (schema.discriminator) return { ...found, kind: "union" };
    if (schema.enum) return { ...found, kind: "choice" };
    if (schema.type === "boolean") return { ...found, kind: "switch" };
    if (schema.type === "number" || schema.type === "integer") return { ...found, kind: "number" };
    if (schema.type === "string") return { ...found, kind: "text" };
    if (schema.type === "object" && schema.properties) return { ...found, kind: "group" };
    if (schema.type === "array" && schema.items) return { ...found, kind: "list", items: this.kind(schema.items) };
    return found;
  }

  /** Return the schema of one of a union's kinds, by its tag; undefined when it has none of the name. */
  variant(union, tag) {
    const mapping = union.schema.discriminator.mapping;
    return Object.hasOwn(mapping, tag) ? this.resolved({ $ref: mapping[tag] }) : undefined;
  }

  /** Call `visit(holder, name)` for each length in a value that has this schema. */
  lengths(node, holder, name, visit) {
    const value = holder[name];
    if (value === null || value === undefined) return;
    const found = this.kind(node);
    if (found.kind === "length") visit(holder, name);
    else if (found.kind === "list" && Array.isArray(value)) {
      value.forEach((_, index) => this.lengths(found.schema.items, value, index, visit));
    } else if (typeof value === "object") {
      const schema =
        found.kind === "union" ? this.variant(found, value[found.schema.discriminator.propertyName]) : found.schema;
      for (const field of Object.keys(value)) {
        const inner = schema?.properties?.[field] ?? schema?.additionalProperties;
        if (typeof inner === "object") this.lengths(inner, value, field, visit);
      }
    }
  }
}
