import supertest from "supertest";
import type { TestApp } from "./app.ts";

/** Someone who is not signed in, with the cookies and the form token a browser would hold. */
export async function visitor({ app }: TestApp, path = "/sign-in") {
  const cookies = new Map<string, string>();
  const keep = (answer: supertest.Response) => {
    for (const line of [answer.headers["set-cookie"] ?? []].flat()) {
      const [pair = ""] = line.split(";");
      const [name = "", value = ""] = pair.split("=");
      if (value === "") cookies.delete(name);
      else cookies.set(name, value);
    }
    return answer;
  };
  const cookie = () => [...cookies].map(([name, value]) => `${name}=${value}`).join("; ");
  const visit = async (where: string) =>
    keep(await supertest(app.server).get(where).set("cookie", cookie()));
  const page = await visit(path);
  const csrf = () => /name="_csrf" value="([^"]+)"/.exec(page.text)?.[1] ?? "";
  return {
    page,
    cookies,
    visit,
    submit: async (where: string, fields: Record<string, unknown>) =>
      keep(
        await supertest(app.server)
          .post(where)
          .set("cookie", cookie())
          .type("form")
          .send({ _csrf: csrf(), _key: "not-used", ...fields }),
      ),
  };
}
