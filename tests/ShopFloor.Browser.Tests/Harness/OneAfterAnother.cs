// Each test has a browser and a server of its own to feed; side by side on two cores they only wait for each other.
[assembly: CollectionBehavior(DisableTestParallelization = true)]
