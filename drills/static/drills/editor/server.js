// What the server is asked for: the drawing with its checks, and to save it. It alone draws.

export class Server {
  constructor({ look, save, token }) {
    Object.assign(this, { lookAt: look, saveAt: save, token });
  }

  look(scene, step, lanes) {
    return this.#post(this.lookAt, { scene, step, lanes });
  }

  save(scene, version) {
    return this.#post(this.saveAt, { scene, version });
  }

  // {status, body}; status 0: no connection, 401: signed out.
  async #post(address, body) {
    try {
      const response = await fetch(address, {
        method: "POST",
        headers: { "Content-Type": "application/json", "X-CSRFToken": this.token },
        body: JSON.stringify(body),
      });
      if (response.redirected || response.status === 403) return { status: 401, body: {} };
      const json = response.headers.get("Content-Type")?.startsWith("application/json");
      return { status: response.status, body: json ? await response.json() : {} };
    } catch {
      return { status: 0, body: {} };
    }
  }
}
