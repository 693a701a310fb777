//! Python bindings of stallpoint: conversion, errors and one helper for long calls. No physics here.
