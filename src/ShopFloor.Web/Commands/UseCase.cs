namespace ShopFloor.Web.Commands;

/// <summary>
/// Marks a use case: a sealed class with a verb for a name and one public <c>RunAsync</c>, which goes through <see cref="CommandRunner"/>
/// when it writes. Registered by itself.
/// </summary>
public interface IUseCase;

/// <summary>Marks a read: projects what one page shows straight from the database. Registered by itself.</summary>
public interface IPageView;
