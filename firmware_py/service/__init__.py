"""The socket between the controller and whoever looks at it."""
