/** What the tests use of jsdom, which brings no types of its own. */
declare module "jsdom" {
  export interface DomList<T> extends Iterable<T> {
    readonly length: number;
    readonly [index: number]: T;
  }

  export interface DomElement {
    readonly id: string;
    readonly localName: string;
    readonly namespaceURI: string | null;
    readonly textContent: string;
    readonly parentElement: DomElement | null;
    readonly children: DomList<DomElement>;
    readonly attributes: DomList<{ readonly name: string; readonly value: string }>;
    getAttribute(name: string): string | null;
    getAttributeNS(namespace: string, name: string): string | null;
    setAttribute(name: string, value: string): void;
    hasAttribute(name: string): boolean;
    querySelector(selector: string): DomElement | null;
    querySelectorAll(selector: string): DomList<DomElement>;
    insertBefore(child: DomElement, before: DomElement | null): DomElement;
    append(...children: DomElement[]): void;
    cloneNode(deep: boolean): DomElement;
    remove(): void;
    matches(selector: string): boolean;
    closest(selector: string): DomElement | null;
  }

  export interface DomDocument extends DomElement {
    readonly documentElement: DomElement;
    getElementById(id: string): DomElement | null;
    createElementNS(namespace: string, name: string): DomElement;
  }

  export class JSDOM {
    constructor(text: string, options?: { readonly contentType?: string });
    readonly window: {
      readonly document: DomDocument;
      getComputedStyle(element: DomElement): { readonly [property: string]: string };
    };
    serialize(): string;
  }
}
