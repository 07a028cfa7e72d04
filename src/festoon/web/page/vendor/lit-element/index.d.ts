/**
 * @license
 * Copyright 2017 Google LLC
 * SPDX-License-Identifier: BSD-3-Clause
 */
export * from '../lit-reactive-element/reactive-element.js';
export * from '../lit-html/lit-html.js';
export * from './lit-element.js';
