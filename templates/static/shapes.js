// Boxes and outlines on a photo, as plain geometry in its upright pixels (y goes down).
// A box is { kind: "box", x, y, width, height, turn } (see desk/frame.py), an outline { kind: "outline", points }.
import { radians } from "./plane.js";

const SMALLEST = 4; // pixels of the photo
export const FEWEST = 3;
export const MOST = 500;
const tenth = (value) => Math.round(value * 10) / 10;

function axes(turn) {
  const [cos, sin] = [Math.cos(radians(turn)), Math.sin(radians(turn))];
  return { along: { x: cos, y: sin }, down: { x: -sin, y: cos } };
}

// The box in whose own directions these are two opposite corners, counted from `from`.
function spanned(from, turn, [a, b], [c, d]) {
  const { along, down } = axes(turn);
  const [left, top] = [Math.min(a, c), Math.min(b, d)];
  return {
    kind: "box", turn, width: Math.abs(c - a), height: Math.abs(d - b),
    x: from.x + left * along.x + top * down.x, y: from.y + left * along.y + top * down.y,
  };
}

function inside(from, turn, at) {
  const { along, down } = axes(turn);
  const [x, y] = [at.x - from.x, at.y - from.y];
  return [x * along.x + y * along.y, x * down.x + y * down.y];
}

export const between = (a, b, turn) => spanned(a, turn, [0, 0], inside(a, turn, b));

export function corners(shape) {
  if (shape.kind === "outline") return shape.points;
  const { along, down } = axes(shape.turn);
  return [[0, 0], [shape.width, 0], [shape.width, shape.height], [0, shape.height]].map(([a, b]) => ({
    x: shape.x + a * along.x + b * down.x, y: shape.y + a * along.y + b * down.y,
  }));
}

// The middle of each side: of the one after corner 0, after corner 1 ...
export function middles(shape) {
  const points = corners(shape);
  return points.map((a, index) => {
    const b = points[(index + 1) % points.length];
    return { x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 };
  });
}

const shifted = (at, by) => ({ x: at.x + by.x, y: at.y + by.y });

export function moved(shape, by) {
  if (shape.kind === "box") return { ...shape, ...shifted(shape, by) };
  return { ...shape, points: shape.points.map((each) => shifted(each, by)) };
}

// A box stays a box: the corner across stays where it is, and the sides keep their direction.
export function cornerMoved(shape, index, to) {
  if (shape.kind === "box") return between(corners(shape)[(index + 2) % 4], to, shape.turn);
  return { ...shape, points: shape.points.map((each, at) => (at === index ? to : each)) };
}

export function sideMoved(box, side, to) {
  const [a, b] = inside(box, box.turn, to);
  const { width, height } = box;
  const [from, until] = [
    [[0, b], [width, height]], [[0, 0], [a, height]], [[0, 0], [width, b]], [[a, 0], [width, height]],
  ][side];
  return spanned(box, box.turn, from, until);
}

export function cornerAdded(shape, after, at) {
  return { ...shape, points: [...shape.points.slice(0, after + 1), at, ...shape.points.slice(after + 1)] };
}

export function cornerRemoved(shape, index) {
  return { ...shape, points: shape.points.filter((_, at) => at !== index) };
}

function twiceArea(points) {
  return points.reduce((sum, a, index) => {
    const b = points[(index + 1) % points.length];
    return sum + a.x * b.y - b.x * a.y;
  }, 0);
}

export function clockwise(points) {
  return twiceArea(points) >= 0 ? points : [points[0], ...points.slice(1).reverse()];
}

export function holdsAnything(shape) {
  if (shape.kind === "box") return shape.width >= SMALLEST && shape.height >= SMALLEST;
  return shape.points.length >= FEWEST && Math.abs(twiceArea(shape.points)) >= 2 * SMALLEST * SMALLEST;
}

export function crossesItself(points) {
  const sides = points.map((each, index) => [each, points[(index + 1) % points.length]]);
  const beside = ([a, b], at) => (b.x - a.x) * (at.y - a.y) - (b.y - a.y) * (at.x - a.x);
  return sides.some((one, index) => sides.slice(index + 2).some((other) =>
    beside(one, other[0]) * beside(one, other[1]) < 0 && beside(other, one[0]) * beside(other, one[1]) < 0));
}

// --- as the page's fields have them -------------------------------------------------------------

export const NAMES = ["x", "y", "width", "height", "turn"];
export const pointList = (points) => points.map(({ x, y }) => `${tenth(x)},${tenth(y)}`).join(" ");

export function numbersOf(box) {
  return NAMES.map((name) => String(name === "turn" ? Math.round(box.turn * 100) / 100 : tenth(box[name])));
}

export function boxOf(texts) {
  const read = texts.map((text) => Number(text.trim().replace(",", ".")));
  const [x, y, width, height, turn] = read;
  const given = texts.slice(0, 4).every((text) => text.trim() !== "");
  return given && read.every(Number.isFinite) && width > 0 && height > 0 ? { kind: "box", x, y, width, height, turn } : null;
}

export function outlineOf(text) {
  const pairs = text.trim().split(/[\s;]+/).map((pair) => pair.split(",").map((each) => (each === "" ? NaN : Number(each))));
  const sound = pairs.length >= FEWEST && pairs.length <= MOST && pairs.every((pair) => pair.length === 2 && pair.every(Number.isFinite));
  return sound ? { kind: "outline", points: pairs.map(([x, y]) => ({ x, y })) } : null;
}
