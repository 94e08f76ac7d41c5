import type { Column, Picture, Shape } from "../backend/types";

const ys = (shape: Shape): number[] => {
  if ("rect" in shape) return [shape.rect.at[1], shape.rect.at[1] + shape.rect.size[1]];
  if ("polygon" in shape) return shape.polygon.rings.flat().map(([, y]) => y);
  if ("polyline" in shape) return shape.polyline.points.map(([, y]) => y);
  if ("dots" in shape) return shape.dots.dots.map(([[, y]]) => y);
  return [shape.label.at[1]];
};

/** The core cut at its layers, so that each can stand beside its words however many lines they take. A shape goes to
    the layer that its middle lies in; what it has beyond the edge is drawn over the neighbour, as in the whole. */
export const slices = (column: Column): Picture[] => {
  const placed = column.drawing.drawing.shapes.map((shape) => {
    const at = ys(shape);
    return { shape, middle: (Math.min(...at) + Math.max(...at)) / 2 };
  });
  return column.layers.map(({ top, bottom }) => ({
    title: "",
    text: [],
    drawing: {
      width: column.drawing.drawing.width,
      height: bottom - top,
      shapes: placed.filter(({ middle }) => middle > top && middle <= bottom).map(({ shape }) => shape),
    },
  }));
};
