DROP TABLE caches;
