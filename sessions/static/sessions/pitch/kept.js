// What this phone remembers of whoever holds it: nothing of a session, nothing of a person.

export function remembered(name) {
  try {
    return localStorage.getItem(`bibrack.${name}`);
  } catch {
    return null;
  }
}

export function remember(name, value) {
  try {
    localStorage.setItem(`bibrack.${name}`, value);
  } catch {
    // A phone that keeps nothing for pages asks again the next time.
  }
}
