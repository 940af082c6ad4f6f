import type { Page } from '@playwright/test';
import type { Hall } from './bench-hall';

/** Order is what bench 1 is to do, as a counter box and a phone ask for it. */
export interface Order {
  run?: string;
  start_number?: number;
  race_s?: number;
  session?: string;
  guessed?: boolean;
}

/** Life is what a car has driven. */
export interface Life {
  runs: { id: string; distance_m: number; state?: number; guess_m?: number; counts: boolean }[];
}

export const orderIn = (hall: Hall) => hall.ask<Order>('GET', '/benches/b1/order');
export const lifeIn = (hall: Hall, car: number) => hall.ask<Life>('GET', `/practice/cars/${car}`);

/** shot keeps a picture where KEEP_SHOTS names a folder. */
export const shot = (page: Page, name: string) =>
  process.env['KEEP_SHOTS'] ? page.screenshot({ path: `${process.env['KEEP_SHOTS']}/${name}.png` }) : undefined;
