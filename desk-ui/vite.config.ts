import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

export default defineConfig({
  plugins: [svelte()],
  // Relative, so that the built page does not care at which address the desk answers.
  base: './',
  build: {
    outDir: '../src/wayfold/desk/static',
    emptyOutDir: true,
    // Not the default "assets": below that address the server has the book's pictures.
    assetsDir: 'front',
    target: 'es2023',
    // The fonts are files of their own and are never inlined.
    assetsInlineLimit: 0,
  },
  test: { include: ['src/**/*.test.ts'] },
});
