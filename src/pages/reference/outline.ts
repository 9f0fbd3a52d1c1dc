/** The parts of an OpenAPI document that the readable page shows. */
export interface ApiDocument {
  paths: Record<string, Record<string, Operation>>;
}

interface Operation {
  summary?: string;
  tags?: string[];
  parameters?: { name: string; in: string; required?: boolean; schema?: Schema }[];
  requestBody?: { content?: Record<string, { schema?: Schema }> };
  responses?: Record<string, { description?: string }>;
}

interface Schema {
  type?: string | string[];
  enum?: unknown[];
  const?: unknown;
  format?: string;
  minimum?: number;
  maximum?: number;
  maxLength?: number;
  items?: Schema;
  properties?: Record<string, Schema>;
  required?: string[];
  anyOf?: Schema[];
}

interface Row {
  name: string;
  where: string;
  form: string;
  needed: string;
}

/** Groups the operations by tag, each with its fields in plain words. */
export function outline(document: ApiDocument) {
  const groups = new Map<string, object[]>();
  for (const [path, methods] of Object.entries(document.paths)) {
    for (const [method, operation] of Object.entries(methods)) {
      const tag = operation.tags?.[0] ?? "other";
      const operations = groups.get(tag) ?? [];
      operations.push(describe(method, path, operation));
      groups.set(tag, operations);
    }
  }
  return [...groups].map(([tag, operations]) => ({ tag, operations }));
}

function describe(method: string, path: string, operation: Operation) {
  const body = Object.values(operation.requestBody?.content ?? {})[0]?.schema;
  const parameters = (operation.parameters ?? []).map(
    (one): Row => ({
      name: one.name,
      where: one.in,
      form: formOf(one.schema),
      needed: one.required ? "needed" : "optional",
    }),
  );
  return {
    method: method.toUpperCase(),
    path,
    summary: operation.summary ?? "",
    rows: [...parameters, ...fieldsOf(body)],
    answers: Object.keys(operation.responses ?? {}).join(", "),
  };
}

const fieldsOf = (body: Schema | undefined): Row[] =>
  Object.entries(body?.properties ?? {}).map(([name, schema]) => ({
    name,
    where: "body",
    form: formOf(schema),
    needed: body?.required?.includes(name) ? "needed" : "optional",
  }));

function formOf(schema: Schema | undefined): string {
  if (!schema) return "";
  if (schema.const !== undefined) return JSON.stringify(schema.const);
  if (schema.enum) return schema.enum.map(String).join(" | ");
  if (schema.anyOf) return schema.anyOf.map(formOf).join(" or ");
  if (schema.items) return `list of ${formOf(schema.items)}`;
  if (schema.properties) return `{ ${Object.keys(schema.properties).join(", ")} }`;
  const limits = [
    schema.format,
    schema.maxLength === undefined ? undefined : `at most ${schema.maxLength} characters`,
    schema.minimum === undefined ? undefined : `from ${schema.minimum}`,
  ].filter(Boolean);
  return [[schema.type].flat().join(" or "), ...limits].join(", ");
}
