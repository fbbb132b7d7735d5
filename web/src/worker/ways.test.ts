import { describe, expect, it } from 'vitest';
import { isNobodyThere, wayOf } from './ways';

const kOrigin = 'https://shop.example';
const kFiles = ['/', '/mark.svg', '/assets/index-1.js'];
const way = (path: string, mode = 'cors', method = 'GET') => wayOf({ method, mode, url: new URL(path, kOrigin).href }, kOrigin, kFiles);

describe('the worker', () => {
  it('answers nothing of the API, read or written, and no page of it', () => {
    for (const path of ['/api', '/api/me', '/api/bench/2016/record', '/api/orders/2041/sheet.pdf']) {
      expect(way(path)).toBe('pass');
      expect(way(path, 'navigate')).toBe('pass');
      expect(way(path, 'cors', 'POST')).toBe('pass');
    }
  });
  it('answers no write, nothing of another origin and no file that it does not hold', () => {
    expect(way('/orders', 'navigate', 'POST')).toBe('pass');
    expect(way('https://elsewhere.example/', 'navigate')).toBe('pass');
    expect(way('https://shop.example:8420/mark.svg')).toBe('pass');
    expect(way('/assets/index-2.js')).toBe('pass');
    expect(way('/mark.svg?x=1')).toBe('pass');
  });
  it('opens pages and holds the files of its own edition', () => {
    expect(way('/', 'navigate')).toBe('page');
    expect(way('/bench/2016?step=4', 'navigate')).toBe('page');
    expect(way('/apiary', 'navigate')).toBe('page');
    expect(way('/assets/index-1.js')).toBe('file');
    expect(way('/mark.svg', 'no-cors')).toBe('file');
  });
  it('takes the word of whatever stands before the server', () => {
    expect([200, 404, 500, 502, 503, 504].filter(isNobodyThere)).toEqual([502, 503, 504]);
  });
});
